/**
 * How much is where in the shop, counted in the database.
 */
import { ORDER_STATES } from "#core/order/states.ts";
import { messages, orders, paymentEvents } from "#data/schema.ts";
import { and, count, eq, inArray, isNotNull, isNull } from "drizzle-orm";
import type { Database } from "../storage/database.ts";
import { type Family, labelled } from "./open-metrics.ts";

/** Orders by state, what is to be told, and payments that nobody has worked through. */
export async function shopGauges({ q }: Database): Promise<Family[]> {
  const states = await q
    .select({ state: orders.state, n: count() })
    .from(orders)
    .groupBy(orders.state);
  const untold = await q
    .select({ state: messages.state, n: count() })
    .from(messages)
    .where(inArray(messages.state, ["waiting", "failed"]))
    .groupBy(messages.state);
  const [slow] = await q
    .select({ n: count() })
    .from(orders)
    .where(and(eq(orders.state, "placed"), isNotNull(orders.pendingSince)));
  const [events] = await q
    .select({ n: count() })
    .from(paymentEvents)
    .where(isNull(paymentEvents.settledAt));
  // A state nothing is in is told as nothing, or a curve would simply end.
  const of = (rows: readonly { state: string; n: number }[]) => (state: string) =>
    rows.find((row) => row.state === state)?.n ?? 0;
  return [
    byState("softset_orders", "Orders by state.", ORDER_STATES, of(states)),
    byState("softset_messages", "Mails and events.", ["waiting", "failed"], of(untold)),
    byState(
      "softset_payments_waiting",
      "Placed and not paid, slow payments on their way, events not worked through.",
      ["unpaid", "slow", "event"],
      (state) =>
        ({ unpaid: of(states)("placed"), slow: slow!.n, event: events!.n })[state as "unpaid"],
    ),
  ];
}

function byState(
  name: string,
  help: string,
  states: readonly string[],
  value: (state: string) => number,
): Family {
  const samples = states.map((state) => ({
    ...{ ending: "", labels: labelled({ state }), value: value(state) },
  }));
  return { name, type: "gauge", help, samples };
}
