/**
 * The owner's orders, one by one: looked at, held, released.
 */
import { textOf } from "../../typed/text.ts";
import { whyFault } from "../../typed/why.ts";
import { readForm } from "../../middleware.ts";
import type { OrderState } from "#core/order/states.ts";
import type { PriceBreakdown } from "#core/price/breakdown.ts";
import { Hono } from "hono";
import { pantryOf } from "../../actions/pantry.ts";
import { withQuote } from "../../batches/groups.ts";
import { makerOrderCare } from "../../pages/maker-order-care.ts";
import { makerOrderPage } from "../../pages/maker-order.ts";
import type { Shop } from "../../ports.ts";
import { Refusal } from "../../problem.ts";
import { Conflict } from "../../storage/database.ts";
import type { Move } from "../../storage/orders.ts";
import { orderCareRoutes } from "./order-care.ts";
import { orderListRoutes } from "./order-lists.ts";
import { type OrderDesk, orderMoneyRoutes } from "./order-money.ts";
import { makerPage } from "./page.ts";
import type { Signed, SignedContext } from "./visit.ts";

interface Change {
  readonly to: OrderState;
  readonly from: OrderState;
  readonly verb: string;
  readonly with?: (why: string) => NonNullable<Move["with"]>;
}

const OUT_OF_BATCH = { batchId: null, batchRun: null };

/** What the owner may do to an order by giving a reason. */
const CHANGES: Readonly<Record<"hold" | "release", readonly Change[]>> = {
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
};

export function orderRoutesOfMaker(shop: Shop) {
  async function showOrder(
    c: SignedContext,
    says: Partial<Parameters<OrderDesk["showAgain"]>[2]> = {},
    status: 200 | 409 | 422 = 200,
  ) {
    const shopId = c.get("shopId");
    const reference = c.req.param("reference") ?? "";
    const { order, quote } = await ownOrder(shopId, reference);
    const [stored, events, batch, lots, refunds] = await Promise.all([
      shop.orders.quote(order.quoteId),
      shop.orders.events(order.id),
      order.batchId ? shop.batches.byId(order.batchId) : undefined,
      shop.trace.backwards(shopId, { reference }),
      shop.refunds.of(order.id),
    ]);
    const price = JSON.parse(stored!.priceLines) as PriceBreakdown;
    const batchNumber = batch?.number ?? null;
    const named = [
      ...quote.parts.map(({ ingredient }) => ingredient),
      ...price.lines.flatMap(({ subject }) => subject ?? []),
      ...lots.flatMap(({ ingredientId }) => ingredientId ?? []),
    ];
    const { ingredientOf } = await pantryOf(shop, shopId, named);
    const { fault = "", typed = "", refundFault = "", typedRefund } = says;
    const money = { refunds, nextRefundId: shop.numbers.id(), refundFault, typedRefund };
    const parts = { price, events, lots, batchNumber, ingredientOf, fault, typed, money };
    const care = makerOrderCare(order, c.get("owner"));
    const model = { ...makerOrderPage(c.get("owner"), { order, quote }, parts), care };
    return c.html(await makerPage(shop, c, "orders", "maker-order", model), status);
  }

  async function change(c: SignedContext, what: keyof typeof CHANGES) {
    const why = textOf(await readForm(c), "why");
    const { order } = await ownOrder(c.get("shopId"), c.req.param("reference") ?? "");
    const against = whyFault(why);
    if (against) return showOrder(c, { fault: against, typed: why }, 422);
    if (what === "release" && order.paidAt === null) {
      const fault =
        "No payment has come for this order, so it cannot be made. Nothing was changed.";
      return showOrder(c, { fault, typed: why }, 422);
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
    const fault = "The order has just changed, so nothing was done. Look again.";
    return showOrder(c, { fault, typed: why }, 409);
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

  const desk: OrderDesk = {
    ownOrder,
    showAgain: (c, status, says) => showOrder(c, says, status),
  };
  return new Hono<Signed>()
    .route("/", orderListRoutes(shop))
    .get("/:reference", (c) => showOrder(c))
    .post("/:reference/hold", (c) => change(c, "hold"))
    .post("/:reference/release", (c) => change(c, "release"))
    .route("/", orderMoneyRoutes(shop, desk))
    .route("/", orderCareRoutes(shop, desk));
}
