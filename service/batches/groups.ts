/**
 * Orders with what they ask for, gathered by what can be made together: one blend is one run, one base is one batch.
 */
import type { QuoteSnapshot } from "#core/wire.ts";
import { QuoteSnapshotShape } from "../shapes.ts";
import type { OrderRow } from "../storage/orders.ts";

export interface OrderWithQuote<Row extends Pick<OrderRow, "snapshot"> = OrderRow> {
  readonly order: Row;
  readonly quote: QuoteSnapshot;
}

/** Orders of one blend, that can be made together. */
export interface BlendGroup {
  readonly quote: QuoteSnapshot;
  readonly orders: readonly OrderWithQuote[];
}

/** Blends from one base: made one after the other, from the same butters. */
interface BaseGroup {
  readonly quote: QuoteSnapshot;
  readonly blends: readonly BlendGroup[];
}

export function withQuote<Row extends Pick<OrderRow, "snapshot">>(order: Row): OrderWithQuote<Row> {
  return { order, quote: QuoteSnapshotShape.parse(JSON.parse(order.snapshot)) };
}

/** Gather orders whose blends are the same to the last share, in the order they came. */
export function groupByBlend(orders: readonly OrderWithQuote[]): BlendGroup[] {
  return gather(orders, ({ quote }) => blendKey(quote)).map((members) => ({
    quote: members[0]!.quote,
    orders: members,
  }));
}

/** Gather orders by the base they start from, and within it by blend. */
export function groupByBase(orders: readonly OrderWithQuote[]): BaseGroup[] {
  const keyOf = ({ quote }: OrderWithQuote) => JSON.stringify([quote.product.id, quote.base.id]);
  return gather(orders, keyOf).map((members) => ({
    quote: members[0]!.quote,
    blends: groupByBlend(members),
  }));
}

function gather<T>(all: readonly T[], keyOf: (each: T) => string): T[][] {
  const groups = new Map<string, T[]>();
  for (const each of all) {
    const key = keyOf(each);
    const group = groups.get(key);
    if (group) group.push(each);
    else groups.set(key, [each]);
  }
  return [...groups.values()];
}

function blendKey(quote: QuoteSnapshot): string {
  const parts = [...quote.parts].sort((a, b) => (a.ingredient < b.ingredient ? -1 : 1));
  return JSON.stringify([
    quote.product.id,
    quote.product.version,
    parts.map(({ ingredient, share }) => [ingredient, share]),
  ]);
}
