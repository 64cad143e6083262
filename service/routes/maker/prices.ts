/**
 * Prices: the price sheet of a product, tried and saved, and the margins that have fallen.
 */
import { readForm } from "../../middleware.ts";
import { ingredientsOf } from "#core/compose/product.ts";
import { type Context, Hono } from "hono";
import { pricePage } from "../../pages/maker-price.ts";
import { pricesPage } from "../../pages/maker-prices.ts";
import type { Shop } from "../../ports.ts";
import type { MarginReports } from "../../prices/margin-reports.ts";
import type { PriceFields } from "../../prices/price-fields.ts";
import { type OpenSheet, openSheet, sameSheet, savePolicy } from "../../prices/price-sheet.ts";
import { readPolicy } from "../../prices/read-policy.ts";
import { currencyOf, trialGround } from "../../prices/trial-ground.ts";
import type { Desk, Desks } from "../../products/desk.ts";
import { openProduct } from "../../products/open-product.ts";
import { makerPage } from "./page.ts";
import { productPage } from "./product-page.ts";
import type { Signed, SignedContext } from "./visit.ts";

/** Longer than any figure: what is typed beyond it is cut. */
const TYPED_MOST = 200;

export function priceRoutes(shop: Shop, deskOf: Desks, reportOf: MarginReports) {
  interface Showing {
    readonly desk: Desk;
    readonly sheet: OpenSheet;
    readonly typed: PriceFields;
    readonly sent?: boolean;
    readonly moved?: boolean;
  }

  async function show(c: SignedContext, { desk, sheet, typed, ...how }: Showing) {
    const { product, pricePolicy } = sheet.draft.document;
    const lotCosts = await shop.lotCosts.dearestOnHand(desk.shop.id, ingredientsOf(product));
    const ground = trialGround(product, pricePolicy, desk, lotCosts);
    const model = pricePage({
      product,
      typed,
      stored: sheet.stored,
      revision: sheet.draft.revision,
      ground,
      blend: typed["blend"] ?? c.req.query("blend") ?? ground.blends[0]?.key ?? "",
      jar: typed["tryJar"] ?? c.req.query("jar") ?? product.jars[0]?.id ?? "",
      saved: c.req.query("saved") !== undefined && how.sent !== true,
      sent: how.sent ?? false,
      moved: how.moved ?? false,
    });
    const open = await openProduct(shop, deskOf, c.get("owner"), product.id);
    return await productPage(shop, c, open, ["maker-price", "price"], model);
  }

  async function save(c: SignedContext, productId: string) {
    const desk = await deskOf(c.get("owner"));
    const [sheet, typed] = [await openSheet(shop, desk, productId), await typedIn(c)];
    const showing = { desk, sheet, typed, sent: true };
    if (!sameSheet(sheet, basisOf(typed))) {
      return c.html(await show(c, { ...showing, moved: true }), 409);
    }
    const read = readPolicy(typed, sheet.draft.document.product.jars, currencyOf(desk));
    if ("faults" in read) return c.html(await show(c, showing), 422);
    const { shopId, personId } = c.get("visit");
    if (!(await savePolicy(shop, sheet, read.policy, { shopId, personId }))) {
      const now = await openSheet(shop, desk, productId);
      return c.html(await show(c, { ...showing, sheet: now, moved: true }), 409);
    }
    const tried = new URLSearchParams({ saved: "1", blend: typed["blend"] ?? "" });
    if (typed["tryJar"]) tried.set("jar", typed["tryJar"]);
    return c.redirect(`/maker/products/${encodeURIComponent(productId)}/price?${tried}`, 303);
  }

  return new Hono<Signed>()
    .get("/products/:product/price", async (c) => {
      const desk = await deskOf(c.get("owner"));
      const sheet = await openSheet(shop, desk, c.req.param("product"));
      return c.html(await show(c, { desk, sheet, typed: sheet.shown }));
    })
    .post("/products/:product/price", (c) => save(c, c.req.param("product")))
    .post("/products/:product/price/try", async (c) => {
      const desk = await deskOf(c.get("owner"));
      const sheet = await openSheet(shop, desk, c.req.param("product"));
      const typed = await typedIn(c);
      const moved = !sameSheet(sheet, basisOf(typed));
      const read = readPolicy(typed, sheet.draft.document.product.jars, currencyOf(desk));
      const status = moved ? 409 : "faults" in read ? 422 : 200;
      return c.html(await show(c, { desk, sheet, typed, sent: true, moved }), status);
    })
    .get("/prices", async (c) => {
      const desk = await deskOf(c.get("owner"));
      const report = await reportOf(desk);
      const from = Math.max(0, Math.trunc(Number(c.req.query("from") ?? 0)) || 0);
      const model = pricesPage(report, desk, from);
      return c.html(await makerPage(shop, c, "products", "maker-prices", model));
    });
}

async function typedIn(c: Context): Promise<PriceFields> {
  const form = await readForm(c);
  return Object.fromEntries(
    [...form].map(([name, value]) => {
      const text = typeof value === "string" ? value : "";
      return [name, name === "was" ? text : text.slice(0, TYPED_MOST)];
    }),
  );
}

/** What the form was filled in on; a form that does not say counts as an old one. */
function basisOf(typed: PriceFields) {
  const revision = Number(typed["revision"] ?? Number.NaN);
  try {
    const was: unknown = JSON.parse(typed["was"] ?? "");
    if (typeof was === "object" && was !== null) return { revision, was: was as PriceFields };
  } catch {
    // told below: without it nothing is known to be the same
  }
  return { revision, was: { unknown: "" } };
}
