/**
 * What must be so once everything is settled: no order and no payment lost, each paid order once on the bench, and
 * everything told once. Read from the file itself, not by the shop's own code.
 */
import SQLite from "better-sqlite3";
import type { BatchSheets } from "#service/batches/sheets.ts";
import type { OutsideSeen } from "./outside.ts";

export interface Account {
  readonly orders: number;
  readonly paid: number;
  readonly batches: number;
  readonly messages: number;
  /** Of these, how many arrived more than once under their one id. */
  readonly arrivedTwice: number;
  /** Everything that is wrong, in words. */
  readonly faults: readonly string[];
}

interface Answered {
  readonly placed: readonly string[];
  readonly paid: readonly string[];
}

interface OrderRow {
  readonly id: string;
  readonly reference: string;
  readonly state: string;
  readonly till_kind: string;
  readonly paid_at: number | null;
  readonly batch_id: string | null;
}

interface MessageRow {
  readonly id: string;
  readonly order_id: string | null;
  readonly kind: string;
  readonly purpose: string;
  readonly to_whom: string | null;
  readonly state: string;
}

/** Work of the bench goes on from paid; everything else that is paid for stands still and is a fault here. */
const GOES_WELL = new Set(["paid", "in-making", "made", "sent"]);

export function accountOf(file: string, answered: Answered, outside: OutsideSeen): Account {
  const sqlite = new SQLite(file, { readonly: true });
  const all = <Row>(text: string) => sqlite.prepare(text).all() as Row[];
  const orders = all<OrderRow>(
    "select id, reference, state, till_kind, paid_at, batch_id from orders",
  );
  const batches = all<{ id: string; work_order: string }>("select id, work_order from batches");
  const messages = all<MessageRow>(
    "select id, order_id, kind, purpose, to_whom, state from messages",
  );
  const integrity = sqlite.pragma("integrity_check", { simple: true });
  sqlite.close();
  const arrived = new Map(outside.arrived);
  const isPaid = ({ paid_at: at }: OrderRow) => at !== null;
  return {
    ...{ orders: orders.length, paid: orders.filter(isPaid).length, batches: batches.length },
    messages: messages.length,
    arrivedTwice: messages.filter(({ id }) => (arrived.get(id) ?? 0) > 1).length,
    faults: [
      ...(integrity === "ok" ? [] : [`the file is damaged: ${String(integrity)}`]),
      ...lostOrders(orders, answered),
      ...lostPayments(orders, new Set(outside.paidOrders)),
      ...workOrders(orders.filter(isPaid), batches),
      ...tellings(orders, messages),
      ...messages
        .filter(({ id, state }) => state !== "sent" || !arrived.has(id))
        .map(({ id, purpose, state }) => `${purpose} ${id} is ${state} and has not arrived`),
    ],
  };
}

function lostOrders(orders: readonly OrderRow[], { placed, paid }: Answered): string[] {
  const known = new Map(orders.map((order) => [order.reference, order]));
  return [
    ...placed.filter((each) => !known.has(each)).map((each) => `order ${each} is lost`),
    ...paid
      .filter((each) => known.get(each)?.paid_at === null)
      .map((each) => `the payment of ${each} is lost`),
  ];
}

/** The payment service's books beside the shop's. */
function lostPayments(orders: readonly OrderRow[], taken: ReadonlySet<string>): string[] {
  return orders
    .filter(({ till_kind: kind }) => kind !== "host")
    .filter(({ id, paid_at: at }) => taken.has(id) !== (at !== null))
    .map(({ id, reference }) =>
      taken.has(id) ? `${reference} was paid and is not` : `${reference} is paid and was not`,
    );
}

function workOrders(
  paid: readonly OrderRow[],
  batches: readonly { readonly id: string; readonly work_order: string }[],
): string[] {
  const sheets = new Map<string, string[]>();
  for (const { id, work_order: text } of batches) {
    const { runs } = JSON.parse(text) as BatchSheets;
    for (const { reference } of runs.flatMap(({ workOrder }) => workOrder.jars)) {
      sheets.set(reference, [...(sheets.get(reference) ?? []), id]);
    }
  }
  return paid.flatMap(({ reference, state, batch_id: batch }) => {
    const [sheet, ...others] = sheets.get(reference) ?? [];
    if (!GOES_WELL.has(state)) return [`${reference} is paid and stands at ${state}`];
    if (!sheet) return [`${reference} is paid and on no work order`];
    if (others.length > 0) return [`${reference} is on ${others.length + 1} work orders`];
    return sheet === batch ? [] : [`${reference} is on the work order of another batch`];
  });
}

/** Of every paid order: one mail to the maker, one event, and one mail to whoever paid at the shop's own till. */
function tellings(orders: readonly OrderRow[], messages: readonly MessageRow[]): string[] {
  const counted = new Map<string, number>();
  for (const { order_id: order, kind, purpose, to_whom: to } of messages) {
    const key = [order, kind, purpose, to].join(" ");
    counted.set(key, (counted.get(key) ?? 0) + 1);
  }
  return orders.flatMap(({ id, reference, till_kind: kind, paid_at: at }) => {
    const once = at === null ? 0 : 1;
    const wanted = [
      ["mail order.paid maker", once],
      ["mail order.paid customer", kind === "host" ? 0 : once],
      ["event order.paid ", once],
    ] as const;
    return wanted.flatMap(([what, times]) => {
      const found = counted.get(`${id} ${what}`) ?? 0;
      return found === times
        ? []
        : [`${reference} has ${found} x ${what} and should have ${times}`];
    });
  });
}
