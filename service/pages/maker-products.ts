/**
 * The list of products: what each is, and what to look into.
 */
import { type Desk } from "../products/desk.ts";
import { differencesOf } from "../products/differences.ts";
import { type ProductDraft, ProductDraftShape } from "../products/draft-shape.ts";
import { obstaclesOf } from "../products/readiness.ts";
import { PricePolicyShape, ProductShape } from "../shapes.ts";
import type { ListedProduct, ProductSearch } from "../storage/products.ts";
import { momentIn } from "./maker-pages.ts";
import { productHref } from "./maker-product.ts";

export const PAGE_ROWS = 50;

const SHOWS: readonly (readonly [ProductSearch["show"], string])[] = [
  ["standing", "all"],
  ["for-sale", "for sale"],
  ["draft", "not for sale"],
  ["put-away", "put away"],
];

/** What is searched for, from the address of the page. */
export function readSearch(query: URLSearchParams): ProductSearch {
  const show = SHOWS.find(([each]) => each === query.get("show"))?.[0] ?? "standing";
  const name = query.get("after");
  const id = query.get("id");
  return {
    words: (query.get("q") ?? "").normalize("NFC").trim().slice(0, 80),
    show,
    ...(name !== null && id !== null ? { after: { name, id } } : {}),
  };
}

/** Model of the list. */
export function productsPage(
  search: ProductSearch,
  found: readonly ListedProduct[],
  desk: Desk,
  notice: { readonly words: string; readonly undo: string },
) {
  const rows = found.slice(0, PAGE_ROWS);
  const last = rows.at(-1)?.product;
  const when = momentIn(desk.shop);
  const next = new URLSearchParams({ q: search.words, show: search.show });
  next.set("after", last?.name ?? "");
  next.set("id", last?.id ?? "");
  return {
    title: "Products",
    headline: "Products",
    notice: notice.words,
    undo: notice.undo,
    q: search.words,
    shows: SHOWS.map(([value, words]) => ({ value, words, chosen: value === search.show })),
    rows: rows.map((row) => rowOf(row, desk, when)),
    more: found.length > PAGE_ROWS ? `/maker/products?${next.toString()}` : "",
    empty: emptyWords(search),
  };
}

function rowOf(
  { product, version, draft }: ListedProduct,
  desk: Desk,
  when: (seconds: number) => string,
) {
  const published = version && {
    product: ProductShape.parse(JSON.parse(version.product)),
    pricePolicy: PricePolicyShape.parse(JSON.parse(version.pricePolicy)),
  };
  const document: ProductDraft | undefined = draft
    ? ProductDraftShape.parse(JSON.parse(draft))
    : (published ?? undefined);
  const obstacles = document ? obstaclesOf(document, desk) : [];
  const more = obstacles.length - 1;
  return {
    href: productHref(product.id),
    name: product.name || "without a name",
    ...stateOf(product),
    published: version ? `version ${version.version}, ${when(version.publishedAt)}` : "never",
    draft: draftWords(published, document, version?.version, desk),
    warning: obstacles[0] ? `${obstacles[0].sentence}${more > 0 ? ` And ${more} more.` : ""}` : "",
  };
}

function stateOf({ archivedAt, publishedVersion }: ListedProduct["product"]) {
  if (archivedAt !== null) return { mark: "–", state: "put away" };
  return publishedVersion === null
    ? { mark: "○", state: "not for sale" }
    : { mark: "●", state: "for sale" };
}

function draftWords(
  published: Parameters<typeof differencesOf>[0] | null,
  document: ProductDraft | undefined,
  version: number | undefined,
  desk: Desk,
): string {
  if (!published || !document) return "not published yet";
  const count = differencesOf(published, document, desk).length;
  return count === 0 ? "the same" : `differs from version ${version}`;
}

function emptyWords({ words, show }: ProductSearch): string {
  if (words !== "") return `Nothing here is called “${words}”.`;
  if (show === "put-away") return "Nothing is put away.";
  if (show !== "standing") return "No product is in that state.";
  return "No product yet. Begin with the butter you make most often: its blend, its jars, its price.";
}
