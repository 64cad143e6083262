/**
 * Pages for the maker, behind a sign-in: what to do next, batches and their work orders, orders and their log.
 */
import type { PriceBreakdown } from "#core/price/price.ts";
import { Hono } from "hono";
import { deleteCookie, getCookie, setCookie } from "hono/cookie";
import { type BatchSheets, closeBatch, issueBatch, withQuote } from "../actions/issue-batch.ts";
import { SESSION_LIFE_S, enter, isLinkGood, leave, shopOfSession } from "../actions/sign-in.ts";
import { renderWorkOrder } from "../documents/render.ts";
import { ownPagesOnly, pageHeaders, privatePage } from "../middleware.ts";
import { benchPage, makerOrderPage } from "../pages/maker-pages.ts";
import { renderPage } from "../pages/render.ts";
import type { Shop } from "../ports.ts";
import { Refusal } from "../problem.ts";
import { Conflict } from "../storage/database.ts";
import { kitchenRoutes } from "./kitchen.ts";

type Signed = { Variables: { shopId: string } };

const LIST_MOST = 50;

export function makerRoutes(shop: Shop) {
  const secure = shop.url.startsWith("https:");
  // The __Host- prefix needs Secure, which a shop tried out over plain http cannot have.
  const cookie = secure ? "__Host-softset" : "softset";
  const practice = shop.till.kind === "practice";
  const page = (name: Parameters<typeof renderPage>[0], model: object) =>
    renderPage(name, { practice, ...model });

  const door = new Hono()
    .get("/enter/:token", async (c) => {
      const { token } = c.req.param();
      const good = await isLinkGood(shop, token);
      return c.html(page("maker-enter", { title: "Sign in", token, good }), good ? 200 : 410);
    })
    .post("/enter/:token", async (c) => {
      const session = await enter(shop, c.req.param("token"));
      setCookie(c, cookie, session, {
        path: "/",
        httpOnly: true,
        sameSite: "Lax",
        secure,
        maxAge: SESSION_LIFE_S,
      });
      return c.redirect("/maker", 303);
    })
    .post("/leave", async (c) => {
      await leave(shop, getCookie(c, cookie) ?? "");
      deleteCookie(c, cookie, { path: "/", secure });
      return c.redirect("/", 303);
    });

  const bench = new Hono<Signed>()
    .use(async (c, next) => {
      const shopId = await shopOfSession(shop, getCookie(c, cookie) ?? "");
      if (!shopId) {
        throw new Refusal(
          "maker.sign-in.needed",
          "This is the maker’s side. Open the sign-in link that the service printed when it started.",
        );
      }
      c.set("shopId", shopId);
      await next();
    })
    .get("/", async (c) => {
      const shopId = c.get("shopId");
      const owner = await shop.shops.byId(shopId);
      const [waiting, toSend, held, batches, latest] = await Promise.all([
        shop.orders.inStates(shopId, ["paid"]),
        shop.orders.inStates(shopId, ["made"]),
        shop.orders.inStates(shopId, ["held"]),
        shop.batches.latest(shopId, LIST_MOST),
        shop.orders.latest(shopId, LIST_MOST),
      ]);
      const lists = { waiting, toSend, held, batches, latest };
      return c.html(page("maker-home", benchPage(owner!, lists)));
    })
    .route("/kitchen", kitchenRoutes(shop))
    .post("/batches", async (c) => {
      const form = await c.req.formData();
      const ids = form.getAll("order").map(String);
      const number = await issueBatch(shop, c.get("shopId"), ids);
      return c.redirect(`/maker/batches/${number}`, 303);
    })
    .get("/batches/:number", async (c) => {
      const batch = await shop.batches.byNumber(c.get("shopId"), c.req.param("number"));
      if (!batch) throw new Refusal("make.batch.unknown", "There is no batch of that number.");
      const { runs } = JSON.parse(batch.workOrder) as BatchSheets;
      const owner = await shop.shops.byId(c.get("shopId"));
      const sheet = renderWorkOrder(runs[0]!.workOrder, {
        stylesheets: ["/assets/fonts.css", "/assets/print.css"],
        locale: owner!.locale,
        practice,
        backHref: "/maker",
      });
      return c.html(sheet);
    })
    .post("/batches/:number/made", async (c) => {
      await closeBatch(shop, c.get("shopId"), c.req.param("number"));
      return c.redirect("/maker", 303);
    })
    .get("/orders/:reference", async (c) => {
      const { order, quote } = await ownOrder(c.get("shopId"), c.req.param("reference"));
      const [stored, events, owner, batch] = await Promise.all([
        shop.orders.quote(order.quoteId),
        shop.orders.events(order.id),
        shop.shops.byId(order.shopId),
        order.batchId ? shop.batches.byId(order.batchId) : undefined,
      ]);
      const price = JSON.parse(stored!.priceLines) as PriceBreakdown;
      const number = batch?.number ?? null;
      const model = makerOrderPage(owner!, { order, quote }, price, events, number);
      return c.html(page("maker-order", model));
    })
    .post("/orders/:reference/sent", async (c) => {
      const { order } = await ownOrder(c.get("shopId"), c.req.param("reference"));
      const at = shop.clock.seconds();
      try {
        await shop.orders.move({ orderId: order.id, to: "sent", at, who: "maker", what: "sent" });
      } catch (error) {
        if (!(error instanceof Conflict)) throw error;
        throw new Refusal("order.state.conflict", "This order is not waiting to be sent.");
      }
      return c.redirect("/maker", 303);
    });

  async function ownOrder(shopId: string, reference: string) {
    const order = await shop.orders.byReference(shopId, reference);
    if (!order) throw new Refusal("order.unknown", "There is no order of that reference.");
    return withQuote(order);
  }

  return new Hono()
    .use(pageHeaders, privatePage, ownPagesOnly(new URL(shop.url).origin))
    .route("/", door)
    .route("/", bench);
}
