/**
 * Pages for customers: the shop, a product, an order, and the page of the practice till.
 */
import { Hono } from "hono";
import { orderAgain } from "../actions/blend-code.ts";
import type { Offers } from "../actions/offer.ts";
import { customerOrder, frozenQuote } from "../actions/open-order.ts";
import { tillProblem } from "../actions/place-order.ts";
import { settlePayment } from "../actions/settle-payment.ts";
import { ownPagesOnly, pageHeaders, privatePage } from "../middleware.ts";
import { orderCare } from "../pages/order-care.ts";
import { orderPage } from "../pages/order-page.ts";
import { tillPage } from "../pages/till-page.ts";
import { shopPages } from "../pages/shop-pages.ts";
import type { Shop } from "../ports.ts";
import { ProductShape } from "../shapes.ts";
import { shopForReader } from "../words/reader.ts";
import { refusalTold } from "../words/refusals.ts";
import { customerOrderRoutes } from "./customer-order.ts";
import { plainOrderRoutes } from "./plain-order.ts";
import { type PracticeFields, noFields, readCustomer } from "./practice-customer.ts";

export function pageRoutes(shop: Shop, offers: Offers) {
  const page = shopPages(shop.till);

  async function showTill(id: string, asked?: { fields: PracticeFields; fault: string }) {
    const session = await practiceSession(shop, id);
    const order = await shop.orders.byId(session.orderId);
    const owner = order && (await shop.shops.byId(order.shopId));
    const fields = asked?.fields ?? noFields(session);
    const locale = owner ? shopForReader(owner, order).locale : "en";
    return page(
      "till",
      tillPage(session, order && frozenQuote(order), locale, { fields, fault: asked?.fault ?? "" }),
    );
  }

  return new Hono()
    .use(pageHeaders)
    .get("/", async (c) => {
      const owner = await shop.shops.first();
      const rows = owner ? await shop.shops.published(owner.id) : [];
      const products = rows.map((row) => ProductShape.parse(JSON.parse(row.product)));
      return c.html(page("shop-home", { title: owner?.name ?? "Shop", shop: owner, products }));
    })
    .route("/shop", plainOrderRoutes(shop, offers, page))
    .use("/orders/*", privatePage)
    .get("/orders/:order/:token", async (c) => {
      const { order: id, token } = c.req.param();
      const before = await customerOrder(shop, id, token);
      // The customer is often back before the signed event is here; both settle by the same function.
      const session = before.order.tillSessionId ?? c.req.query("paid");
      if (before.order.state === "placed" && session) {
        await settlePayment(shop, session).catch((error: unknown) =>
          shop.log({
            note: "could not ask the till on the customer's return",
            error: String(error),
          }),
        );
      }
      const { order, quote } = await customerOrder(shop, id, token);
      const owner = shopForReader((await shop.shops.byId(order.shopId))!, order);
      const again = await orderAgain(shop, quote);
      const keptOn = await shop.orderCare.keptOnBecause(order.id);
      const care = orderCare(order, owner, `/orders/${id}/${token}`, keptOn);
      return c.html(page("order", { ...orderPage(order, quote, owner, again), care }));
    })
    .route("/orders", customerOrderRoutes(shop, page))
    .use("/till/*", privatePage, ownPagesOnly(new URL(shop.url).origin))
    .get("/till/:session", async (c) => c.html(await showTill(c.req.param("session"))))
    .post("/till/:session/pay", async (c) => {
      const session = await practiceSession(shop, c.req.param("session"));
      const read = await readCustomer(c, session);
      if ("fault" in read) return c.html(await showTill(session.id, read), 422);
      const next = await shop.practice!.pay(session.id, read.customer).catch(rethrow);
      await settlePayment(shop, session.id);
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
  if (!session) throw refusalTold("order.unknown", "nothing-to-pay");
  return session;
}

function rethrow(error: unknown): never {
  throw tillProblem(error);
}
