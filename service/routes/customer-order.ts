/**
 * What a customer does on the page of their order: a receipt, a wish to cancel, their data out, their data gone.
 */
import { type Context, Hono } from "hono";
import { customerOrder } from "../actions/open-order.ts";
import { askToCancel, eraseParticulars, orderExport, tooEarly } from "../actions/order-care.ts";
import { ownPagesOnly } from "../middleware.ts";
import { erasurePage, receiptPage } from "../pages/order-care.ts";
import type { Shop } from "../ports.ts";
import type { ShopPages } from "../pages/shop-pages.ts";
import type { Reader } from "../pages/problem-page.ts";
import { Refusal } from "../problem.ts";
import { shopForReader } from "../words/reader.ts";
import { refusalTold, sayRefusal } from "../words/refusals.ts";
import { attachment } from "./attachment.ts";

/** @param page renders a page of the shop */
export function customerOrderRoutes(shop: Shop, page: ShopPages) {
  async function open(c: Context) {
    const [id, token] = [c.req.param("order") ?? "", c.req.param("token") ?? ""];
    const { order, quote } = await customerOrder(shop, id, token);
    const owner = shopForReader((await shop.shops.byId(order.shopId))!, order);
    const path = `/orders/${id}/${token}`;
    const reader: Reader = { shop: owner, locale: owner.locale, orderPath: path };
    c.set("reader", reader); // for the page that a refusal gets
    return { order, quote, owner, path };
  }

  const showErasure = async (c: Context, fault = "") => {
    const { order, owner, path } = await open(c);
    const early = order.erasedAt === null ? tooEarly(order.state, owner.locale) : undefined;
    return page("order-erase", erasurePage(order, owner, path, fault || early || ""));
  };

  return new Hono()
    .use(ownPagesOnly(new URL(shop.url).origin))
    .get("/:order/:token/receipt", async (c) => {
      const { order, quote, owner, path } = await open(c);
      if (order.paidAt === null) {
        throw refusalTold("order.state.conflict", "no-receipt-yet");
      }
      return c.html(page("order-receipt", receiptPage(order, quote, owner, path)));
    })
    .get("/:order/:token/data.json", async (c) => {
      const { order, quote } = await open(c);
      c.header("content-disposition", attachment(`order-${order.reference}.json`));
      return c.json(await orderExport(shop, order, quote));
    })
    .post("/:order/:token/cancel", async (c) => {
      const { order, path } = await open(c);
      await askToCancel(shop, order);
      return c.redirect(`${path}#care`, 303);
    })
    .get("/:order/:token/erase", async (c) => c.html(await showErasure(c)))
    .post("/:order/:token/erase", async (c) => {
      const { order, owner, path } = await open(c);
      try {
        await eraseParticulars(shop, order, "customer");
      } catch (error) {
        if (!(error instanceof Refusal)) throw error;
        return c.html(await showErasure(c, sayRefusal(error, owner.locale)), error.status);
      }
      return c.redirect(`${path}#care`, 303);
    });
}
