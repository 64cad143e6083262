/**
 * How much is where in the shop, counted in the database.
 */
import { ORDER_STATES } from "#core/order/states.ts";
import { messages, orders, paymentEvents } from "#data/schema.ts";
import { and, count, eq, inArray, isNotNull, isNull } from "drizzle-orm";
import type { Database } from "../storage/database.ts";
import { type Family, labelled } from "./open-metrics.ts";

const UNTOLD = ["waiting", "failed"] as const;

/** Orders by state, what is to be told, and payments that nobody has worked through. */
export async function shopGauges({ q }: Database): Promise<Family[]> {
  const states = await q
    .select({ state: orders.state, n: count() })
    .from(orders)
    .groupBy(orders.state);
  const untold = await q
    .select({ state: messages.state, n: count() })
    .from(messages)
    .where(inArray(messages.state, UNTOLD))
    .groupBy(messages.state);
  const [slow] = await q
    .select({ n: count() })
    .from(orders)
    .where(and(eq(orders.state, "placed"), isNotNull(orders.pendingSince)));
  const [events] = await q
    .select({ n: count() })
    .from(paymentEvents)
    .where(isNull(paymentEvents.settledAt));
  const byOrderState = countsOf(ORDER_STATES, states);
  return [
    byState("softset_orders", "Orders by state.", byOrderState),
    byState("softset_messages", "Mails and events.", countsOf(UNTOLD, untold)),
    byState(
      "softset_payments_waiting",
      "Placed and not paid, slow payments on their way, events not worked through.",
      { unpaid: byOrderState.placed, slow: slow!.n, event: events!.n },
    ),
  ];
}

/** A state nothing is in is counted as nought, or a curve would simply end. */
function countsOf<State extends string>(
  states: readonly State[],
  rows: readonly { readonly state: string; readonly n: number }[],
) {
  const counts = states.map((state) => [state, rows.find((row) => row.state === state)?.n ?? 0]);
  return Object.fromEntries(counts) as Record<State, number>;
}

function byState(name: string, help: string, counts: Readonly<Record<string, number>>): Family {
  const samples = Object.entries(counts).map(([state, value]) => {
    return { ending: "", labels: labelled({ state }), value };
  });
  return { name, type: "gauge", help, samples };
}
