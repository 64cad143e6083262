/**
 * A page of the maker's side: the model of the page itself, with what every one of them shows at its head.
 */
import { type PageName, renderPage } from "../../pages/render.ts";
import type { Shop } from "../../ports.ts";
import type { SignedContext } from "./visit.ts";

/** Where a page belongs, for the line at its head. */
export type Area =
  "bench" | "orders" | "batches" | "trace" | "products" | "shelf" | "kitchen" | "shop" | "you";

/**
 * Render a page for whoever is signed in.
 * @param model needs `title`; `shop` and `locale` are given here
 */
export async function makerPage(
  shop: Shop,
  c: SignedContext,
  area: Area,
  name: PageName,
  model: object,
): Promise<string> {
  const owner = c.get("owner");
  const visit = c.get("visit");
  return renderPage(name, {
    practice: shop.till.kind === "practice",
    shop: owner,
    locale: owner.locale,
    areas: areasFor(visit.role === "owner", area),
    isOwner: visit.role === "owner",
    person: visit.name,
    ...model,
  });
}

const AREAS: readonly {
  area: Exclude<Area, "you">;
  href: string;
  words: string;
  ownerOnly: boolean;
}[] = [
  { area: "bench", href: "/maker", words: "Bench", ownerOnly: false },
  { area: "orders", href: "/maker/orders", words: "Orders", ownerOnly: true },
  { area: "batches", href: "/maker/batches", words: "Batches", ownerOnly: false },
  { area: "trace", href: "/maker/trace", words: "Trace", ownerOnly: false },
  { area: "shelf", href: "/maker/shelf", words: "Shelf", ownerOnly: true },
  { area: "products", href: "/maker/products", words: "Products", ownerOnly: true },
  { area: "kitchen", href: "/maker/kitchen", words: "Test jars", ownerOnly: false },
  { area: "shop", href: "/maker/shop", words: "Shop", ownerOnly: true },
];

function areasFor(isOwner: boolean, here: Area) {
  return AREAS.filter(({ ownerOnly }) => isOwner || !ownerOnly).map((each) => ({
    ...each,
    here: each.area === here,
  }));
}
