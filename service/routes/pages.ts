/**
 * Pages for customers: the shop, a product, an order, and the page of the practice till.
 */
import { startingChoice } from "#core/compose/product.ts";
import { priceJar, pricePer100g } from "#core/price/price.ts";
import { DEMO_SHOP } from "#data/seeds/demo.ts";
import { Hono } from "hono";
import { judgeChoice } from "../actions/judge-choice.ts";
import type { Offers } from "../actions/offer.ts";
import { customerOrder } from "../actions/open-order.ts";
import { tillProblem } from "../actions/place-order.ts";
import { settlePayment } from "../actions/settle-payment.ts";
import { ownPagesOnly, pageHeaders, privatePage } from "../middleware.ts";
import { orderPage, sumsOf } from "../pages/order-page.ts";
import { renderPage } from "../pages/render.ts";
import type { Shop } from "../ports.ts";
import { Refusal } from "../problem.ts";
import { ProductShape, QuoteSnapshotShape } from "../shapes.ts";
import type { ShopRow } from "../storage/shops.ts";

/** Whatever the template asks for; the shop tells whether it is the demo. */
type PageModel = Readonly<Record<string, unknown>> & { readonly shop?: ShopRow | undefined };

export function pageRoutes(shop: Shop, offers: Offers) {
  const practice = shop.till.kind === "practice";
  const page = (name: Parameters<typeof renderPage>[0], model: PageModel) =>
    renderPage(name, { practice, demo: model.shop?.id === DEMO_SHOP.id, ...model });

  return new Hono()
    .use(pageHeaders)
    .get("/", async (c) => {
      const owner = await shop.shops.first();
      const rows = owner ? await shop.shops.published(owner.id) : [];
      const products = rows.map((row) => ProductShape.parse(JSON.parse(row.product)));
      return c.html(page("shop-home", { title: owner?.name ?? "Shop", shop: owner, products }));
    })
    .get("/shop/:product", async (c) => {
      const owner = await shop.shops.first();
      const { wire, ground } = await offers.of(c.req.param("product"));
      const bases = wire.product.bases.map((base) => {
        const { blend, judgement } = judgeChoice(wire.product, startingChoice(base), ground);
        const jars = wire.product.jars.map((jar) => {
          const priced = priceJar(wire.tariffs[jar.id]!, blend);
          const jarMinor = "jarMinor" in priced ? priced.jarMinor : 0;
          return { ...jar, jarMinor, per100gMinor: pricePer100g(jarMinor, jar.fillG) };
        });
        return { ...base, parts: blend.parts, jars, settled: judgement.firmness?.settled };
      });
      const { product, currency, locale } = wire;
      const title = `${product.name}, ${owner?.name ?? ""}`;
      const taxOnTop = wire.taxOnTop !== undefined;
      const model = { title, shop: owner, product, bases, currency, locale, taxOnTop };
      return c.html(page("shop-product", model));
    })
    .use("/orders/*", privatePage)
    .get("/orders/:order/:token", async (c) => {
      const { order: id, token } = c.req.param();
      const before = await customerOrder(shop, id, token);
      // The customer is often back before the signed event is here; both settle by the same function.
      const session = before.order.tillSessionId;
      if (before.order.state === "placed" && session) {
        await settlePayment(shop, session).catch((error: unknown) =>
          shop.log({
            note: "could not ask the till on the customer's return",
            error: String(error),
          }),
        );
      }
      const { order, quote } = await customerOrder(shop, id, token);
      const owner = await shop.shops.byId(order.shopId);
      return c.html(page("order", orderPage(order, quote, owner!)));
    })
    .use("/till/*", privatePage, ownPagesOnly(new URL(shop.url).origin))
    .get("/till/:session", async (c) => {
      const session = await practiceSession(shop, c.req.param("session"));
      const order = await shop.orders.byId(session.orderId);
      const quote = order && QuoteSnapshotShape.parse(JSON.parse(order.snapshot));
      const owner = order && (await shop.shops.byId(order.shopId));
      return c.html(
        page("till", {
          title: "Practice till",
          session,
          quote,
          sums: quote && sumsOf(quote),
          locale: owner?.locale ?? "en",
          open: session.state === "open",
        }),
      );
    })
    .post("/till/:session/pay", async (c) => {
      const { id } = await practiceSession(shop, c.req.param("session"));
      const next = await shop.practice!.pay(id, await customerOf(c.req.raw)).catch(rethrow);
      await settlePayment(shop, id);
      return c.redirect(next, 303);
    })
    .post("/till/:session/leave", async (c) => {
      const { id } = await practiceSession(shop, c.req.param("session"));
      const next = await shop.practice!.abandon(id).catch(rethrow);
      await settlePayment(shop, id);
      return c.redirect(next, 303);
    });
}

async function practiceSession(shop: Shop, id: string) {
  const session = await shop.practice?.show(id);
  if (!session) throw new Refusal("order.unknown", "There is nothing to pay at this address.");
  return session;
}

/** Who pays, as the practice page asked; nobody when the request carries no form. */
async function customerOf(request: Request) {
  if (!/form/.test(request.headers.get("content-type") ?? "")) return undefined;
  const form = await request.formData();
  const text = (name: string, most: number) =>
    String(form.get(name) ?? "")
      .trim()
      .slice(0, most);
  return { name: text("name", 120), email: text("email", 200) };
}

function rethrow(error: unknown): never {
  throw tillProblem(error);
}
