/**
 * The owner's orders: looked through by what is to be done, searched, and one by one held, released, cancelled, sent.
 */
import type { OrderState } from "#core/order/states.ts";
import type { PriceBreakdown } from "#core/price/breakdown.ts";
import { Hono } from "hono";
import { pantryOf } from "../../actions/pantry.ts";
import { withQuote } from "../../batches/groups.ts";
import { makerOrderPage } from "../../pages/maker-order.ts";
import {
  ORDER_GROUPS,
  type OrderGroup,
  orderGroupPage,
  orderSearchPage,
  ordersPage,
} from "../../pages/maker-orders.ts";
import type { Shop } from "../../ports.ts";
import { Refusal } from "../../problem.ts";
import { Conflict } from "../../storage/database.ts";
import type { Mark } from "../../storage/order-lists.ts";
import type { Move } from "../../storage/orders.ts";
import { makerPage } from "./page.ts";
import type { Signed, SignedContext } from "./visit.ts";

const PAGE = 50;
/** Rows of each group on the page of all. */
const FIRST_ROWS = 10;
const WHY_LONGEST = 300;
const FOREVER = Number.MAX_SAFE_INTEGER;

interface Change {
  readonly to: OrderState;
  readonly from: OrderState;
  readonly verb: string;
  readonly with?: (why: string) => NonNullable<Move["with"]>;
}

const OUT_OF_BATCH = { batchId: null, batchRun: null };

/** What the owner may do to an order by giving a reason. */
const CHANGES: Readonly<Record<"hold" | "release" | "cancel", readonly Change[]>> = {
  hold: (["paid", "in-making"] as const).map((from) => ({
    ...{ to: "held", from, verb: "held" },
    with: (why) => ({ heldBecause: why, ...OUT_OF_BATCH }),
  })),
  release: [
    {
      to: "paid",
      from: "held",
      verb: "released",
      with: () => ({ heldBecause: null, ...OUT_OF_BATCH }),
    },
  ],
  cancel: [{ to: "cancelled", from: "held", verb: "cancelled", with: () => OUT_OF_BATCH }],
};

export function orderRoutesOfMaker(shop: Shop) {
  async function showGroup(c: SignedContext, group: OrderGroup) {
    const [shopId, { state, isWork }] = [c.get("shopId"), group];
    const after = readMark(c.req.query("after"));
    const [count, rows] = await Promise.all([
      shop.orderLists.count(shopId, state),
      shop.orderLists.page(shopId, state, { most: PAGE + 1, after, newestFirst: !isWork }),
    ]);
    const orders = rows.slice(0, PAGE);
    const last = orders.at(-1);
    const next = rows.length > PAGE && last ? `${last.placedAt}.${last.id}` : "";
    const owner = await shop.shops.byId(shopId);
    const model = orderGroupPage(owner!, { ...group, count, orders }, next);
    return c.html(await makerPage(shop, c, "orders", "maker-orders", model));
  }

  async function search(c: SignedContext, asked: string) {
    const shopId = c.get("shopId");
    const before = Number(c.req.query("before") ?? FOREVER);
    const isReference = /^[\dA-HJKMNP-TV-Z]{2,6}$/i.test(asked) && !c.req.query("before");
    const upper = asked.toUpperCase();
    const byReference = isReference ? await shop.orderLists.byReference(shopId, upper, PAGE) : [];
    const byCustomer =
      byReference.length > 0 || Number.isNaN(before)
        ? { found: [], before: undefined }
        : await shop.orderLists.byCustomer(shopId, asked, before, PAGE);
    const owner = await shop.shops.byId(shopId);
    const found = [...byReference, ...byCustomer.found];
    const model = orderSearchPage(owner!, asked, found, String(byCustomer.before ?? ""));
    return c.html(await makerPage(shop, c, "orders", "maker-orders", model));
  }

  async function showOrder(
    c: SignedContext,
    fault = "",
    typed = "",
    status: 200 | 409 | 422 = 200,
  ) {
    const shopId = c.get("shopId");
    const reference = c.req.param("reference") ?? "";
    const { order, quote } = await ownOrder(shopId, reference);
    const [stored, events, owner, batch, pantry, lots] = await Promise.all([
      shop.orders.quote(order.quoteId),
      shop.orders.events(order.id),
      shop.shops.byId(order.shopId),
      order.batchId ? shop.batches.byId(order.batchId) : undefined,
      pantryOf(shop, shopId),
      shop.trace.backwards(shopId, { reference }),
    ]);
    const price = JSON.parse(stored!.priceLines) as PriceBreakdown;
    const batchNumber = batch?.number ?? null;
    const { ingredientOf } = pantry;
    const parts = { price, events, lots, batchNumber, ingredientOf, fault, typed };
    const model = makerOrderPage(owner!, { order, quote }, parts);
    return c.html(await makerPage(shop, c, "orders", "maker-order", model), status);
  }

  async function change(c: SignedContext, what: keyof typeof CHANGES) {
    const why = String((await c.req.formData()).get("why") ?? "").trim();
    const { order } = await ownOrder(c.get("shopId"), c.req.param("reference") ?? "");
    if (why === "" || why.length > WHY_LONGEST) {
      return showOrder(
        c,
        `Write down why, in 1 to ${WHY_LONGEST} characters. Nothing was changed.`,
        why,
        422,
      );
    }
    const step = CHANGES[what].find(({ from }) => from === order.state);
    const moved =
      step &&
      (await tryMove({
        ...{ orderId: order.id, to: step.to, from: [step.from], who: "maker" },
        ...{ at: shop.clock.seconds(), what: `${step.verb}: ${why}` },
        ...(step.with ? { with: step.with(why) } : {}),
      }));
    if (moved) return c.redirect(`/maker/orders/${order.reference}`, 303);
    return showOrder(c, "The order has just changed, so nothing was done. Look again.", why, 409);
  }

  async function tryMove(move: Move): Promise<boolean> {
    try {
      await shop.orders.move(move);
      return true;
    } catch (error) {
      if (!(error instanceof Conflict)) throw error;
      return false;
    }
  }

  async function ownOrder(shopId: string, reference: string) {
    const order = await shop.orders.byReference(shopId, reference);
    if (!order) throw new Refusal("order.unknown", "There is no order of that reference.");
    return withQuote(order);
  }

  return new Hono<Signed>()
    .get("/", async (c) => {
      const shopId = c.get("shopId");
      const group = ORDER_GROUPS.find(({ state }) => state === c.req.query("state"));
      const asked = (c.req.query("q") ?? "").trim().slice(0, 100);
      if (asked !== "") return search(c, asked);
      if (group) return showGroup(c, group);
      const groups = await Promise.all(
        ORDER_GROUPS.map(async (each) => ({
          ...each,
          count: await shop.orderLists.count(shopId, each.state),
          orders: await shop.orderLists.page(shopId, each.state, {
            most: FIRST_ROWS,
            newestFirst: !each.isWork,
          }),
        })),
      );
      const owner = await shop.shops.byId(shopId);
      return c.html(await makerPage(shop, c, "orders", "maker-orders", ordersPage(owner!, groups)));
    })
    .get("/:reference", (c) => showOrder(c))
    .post("/:reference/hold", (c) => change(c, "hold"))
    .post("/:reference/release", (c) => change(c, "release"))
    .post("/:reference/cancel", (c) => change(c, "cancel"))
    .post("/:reference/sent", async (c) => {
      const { order } = await ownOrder(c.get("shopId"), c.req.param("reference"));
      const at = shop.clock.seconds();
      if (!(await tryMove({ orderId: order.id, to: "sent", at, who: "maker", what: "sent" }))) {
        throw new Refusal("order.state.conflict", "This order is not waiting to be sent.");
      }
      return c.redirect("/maker", 303);
    });
}

/** "1764000000.id", where a page ended. */
function readMark(text = ""): Mark | undefined {
  const [, seconds, id] = /^(\d{1,12})\.(.{1,64})$/.exec(text) ?? [];
  return seconds && id ? { placedAt: Number(seconds), id } : undefined;
}
