/**
 * Ordering without a script: a form makes a quote, the quote has a page, and one button there orders it. The same way
 * as the storefront element's order, and a quote gives one order however often it is sent.
 */
import { composeBlend } from "#core/compose/compose.ts";
import { startingChoice } from "#core/compose/product.ts";
import { sayFinding } from "#core/finding.ts";
import type { QuoteSnapshot } from "#core/wire.ts";
import { nameIn } from "#data/names.ts";
import { type Context, Hono } from "hono";
import { issueQuote } from "../actions/issue-quote.ts";
import { type Offer, type Offers, productOfQuote } from "../actions/offer.ts";
import { oncePerOffer } from "../actions/once-per-offer.ts";
import { placeOrder } from "../actions/place-order.ts";
import { KEPT_BRIEFLY, privatePage, readForm } from "../middleware.ts";
import { plainQuotePage } from "../pages/plain-quote.ts";
import { type PlainFields, shopPage } from "../pages/shop-page.ts";
import type { ShopPages } from "../pages/shop-pages.ts";
import type { Shop } from "../ports.ts";
import { Refusal } from "../problem.ts";
import { QuoteSnapshotShape } from "../shapes.ts";
import { refusalTold, sayRefusal } from "../words/refusals.ts";
import { speechIn } from "../words/speak.ts";

export function plainOrderRoutes(shop: Shop, offers: Offers, page: ShopPages) {
  const untouched = oncePerOffer((offer) =>
    page("shop-product", shopPage(offer, offer.owner, { url: shop.url })),
  );

  return new Hono()
    .get("/:product", async (c) => {
      const offer = await offers.of(c.req.param("product"));
      c.header("cache-control", KEPT_BRIEFLY);
      return c.html(untouched(offer));
    })
    .post("/:product/quote", async (c) => {
      const productId = c.req.param("product");
      const fields = await plainFields(c);
      const offer = await offers.of(productId);
      try {
        const { quote } = await issueQuote(shop, offers, quoteRequest(offer, fields));
        return c.redirect(`/shop/${encodeURIComponent(productId)}/quote/${quote.id}`, 303);
      } catch (error) {
        const faults = sentencesOf(error, offer);
        const says = { url: shop.url, fields, faults };
        return c.html(
          page("shop-product", shopPage(offer, offer.owner, says)),
          (error as Refusal).status,
        );
      }
    })
    .use("/:product/quote/*", privatePage)
    .get("/:product/quote/:quote", async (c) => {
      const { quote } = await quoteAt(c);
      return c.html(await quotePage(quote));
    })
    .post("/:product/quote/:quote/order", async (c) => {
      const { quote, offer } = await quoteAt(c);
      try {
        const { order } = await placeOrder(shop, offers, await shop.seals.sealQuote(quote));
        return c.redirect(order.orderUrl, 303);
      } catch (error) {
        const faults = sentencesOf(error, offer);
        return c.html(await quotePage(quote, faults), (error as Refusal).status);
      }
    });

  /** @throws Refusal order.quote.unknown when nothing was quoted at this address */
  async function quoteAt(c: Context) {
    const row = await shop.orders.quote(c.req.param("quote") ?? "");
    if (!row || row.productId !== c.req.param("product")) {
      throw refusalTold("order.quote.unknown", "order.quote.unknown");
    }
    const quote: QuoteSnapshot = QuoteSnapshotShape.parse(JSON.parse(row.snapshot));
    return { quote, offer: await offers.of(row.productId) };
  }

  async function quotePage(quote: QuoteSnapshot, faults: readonly string[] = []) {
    const [offer, product, order] = await Promise.all([
      offers.of(quote.product.id),
      productOfQuote(shop, quote),
      shop.orders.byQuote(quote.id),
    ]);
    const composed = product && composeBlend(product, quote.choice, offer.ground.ingredientOf);
    const token = order && (await shop.seals.orderToken(order.id));
    const model = plainQuotePage(quote, offer.owner, {
      made:
        composed && "blend" in composed
          ? { blend: composed.blend, rules: product.rules }
          : undefined,
      isExpired: quote.expiresAt <= shop.clock.seconds(),
      orderUrl: order && `/orders/${order.id}/${token}`,
      faults,
    });
    return page("plain-quote", model);
  }
}

/** The maker's own base, untouched. @throws Refusal compose.choice.refused when there is none of that name */
function quoteRequest(
  { wire: { product } }: Offer,
  { base: id, jar, quantity, zone }: PlainFields,
) {
  const base = product.bases.find((each) => each.id === id);
  if (!base) throw refusalTold("compose.choice.refused", "no-base");
  return {
    ...{ product: product.id, choice: startingChoice(base), jar },
    quantity: quantity.trim() === "" ? Number.NaN : Number(quantity),
    ...(zone === "" ? {} : { zone }),
  };
}

async function plainFields(c: Context): Promise<PlainFields> {
  const form = await readForm(c);
  const text = (name: string) => {
    const value = form.get(name);
    return typeof value === "string" ? value.slice(0, 64) : "";
  };
  return { base: text("base"), jar: text("jar"), quantity: text("quantity"), zone: text("zone") };
}

/** What a refusal says in the shop's language, its findings first. @throws whatever is no refusal */
function sentencesOf(error: unknown, { wire: { ingredients, locale } }: Offer): string[] {
  if (!(error instanceof Refusal)) throw error;
  const nameOf = (id: string) => {
    const known = ingredients.find((each) => each.id === id);
    return known ? nameIn(locale, known) : id;
  };
  const found = error.particulars.findings ?? [];
  if (found.length === 0) return [sayRefusal(error, locale)];
  return found.map((each) => sayFinding(each, nameOf, speechIn(locale)));
}
