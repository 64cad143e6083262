/**
 * What must be so of orders and messages once nothing is under way any more: none is lost, and everything is told once.
 * Read from the file itself, not by the shop's own code.
 */
import type SQLite from "better-sqlite3";

export interface OrderRow {
  readonly id: string;
  readonly reference: string;
  readonly state: string;
  readonly till_kind: string;
  /** [s since 1970] */
  readonly paid_at: number | null;
  readonly batch_id: string | null;
}

export interface MessageRow {
  readonly id: string;
  readonly order_id: string | null;
  readonly kind: string;
  readonly purpose: string;
  readonly to_whom: string | null;
  readonly state: string;
}

export interface Books {
  readonly orders: readonly OrderRow[];
  readonly messages: readonly MessageRow[];
}

/** References of orders that were answered, and of those whose payment was. */
export interface Answered {
  readonly placed: Iterable<string>;
  readonly paid: Iterable<string>;
}

/** How often each message arrived, by its id. */
export type Arrived = ReadonlyMap<string, number>;

export function readBooks(sqlite: SQLite.Database): Books {
  const all = <Row>(text: string) => sqlite.prepare(text).all() as Row[];
  return {
    orders: all("select id, reference, state, till_kind, paid_at, batch_id from orders"),
    messages: all("select id, order_id, kind, purpose, to_whom, state from messages"),
  };
}

export function isPaid({ paid_at: at }: OrderRow): boolean {
  return at !== null;
}

/** How many messages arrived more than once under their one id. */
export function arrivedTwice({ messages }: Books, arrived: Arrived): number {
  return messages.filter(({ id }) => (arrived.get(id) ?? 0) > 1).length;
}

/** Orders and payments that were answered and are not there, in words. */
export function lostOf({ orders }: Books, { placed, paid }: Answered): string[] {
  const known = new Map(orders.map((order) => [order.reference, order]));
  const isPaidFor = (reference: string) => isPaid(known.get(reference)!);
  return [
    ...[...placed].filter((each) => !known.has(each)).map((each) => `order ${each} is lost`),
    ...[...paid]
      .filter((each) => !known.has(each) || !isPaidFor(each))
      .map((each) => `the payment of ${each} is lost`),
  ];
}

/**
 * What is wrong with the messages, in words. Of every paid order there are one mail to the maker, one event, and one
 * mail to whoever paid at the shop's own till; and all that was written has arrived.
 */
export function untoldOf({ orders, messages }: Books, arrived: Arrived): string[] {
  const counted = new Map<string, number>();
  for (const { order_id: order, kind, purpose, to_whom: to } of messages) {
    const key = [order, kind, purpose, to].join(" ");
    counted.set(key, (counted.get(key) ?? 0) + 1);
  }
  return [
    ...orders.flatMap((order) => {
      const once = isPaid(order) ? 1 : 0;
      const wanted = [
        ["mail order.paid maker", once],
        ["mail order.paid customer", order.till_kind === "host" ? 0 : once],
        ["event order.paid ", once],
      ] as const;
      return wanted.flatMap(([what, times]) => {
        const found = counted.get(`${order.id} ${what}`) ?? 0;
        return found === times
          ? []
          : [`${order.reference} has ${found} x ${what} and should have ${times}`];
      });
    }),
    ...messages
      .filter(({ id, state }) => state !== "sent" || !arrived.has(id))
      .map(({ id, purpose, state }) => {
        const times = arrived.get(id) ?? 0;
        return `${purpose} ${id} is ${state} and has arrived ${times} x`;
      }),
  ];
}
