/**
 * The bench: what to do next at the top. It knows no money, so that whoever makes may stand before it.
 */
import type { FirstStep } from "../actions/first-steps.ts";
import { type OrderWithQuote, groupByBase, withQuote } from "../batches/groups.ts";
import type { MarginReport } from "../prices/fallen-margins.ts";
import { ORDERS_MOST } from "../batches/plan.ts";
import type { Batches } from "../storage/batches.ts";
import { COUNT_MOST, type ListedOrder } from "../storage/order-lists.ts";
import type { OrderRow } from "../storage/orders.ts";
import type { ShopRow } from "../storage/shops.ts";
import { countWords } from "../words/count-words.ts";
import { blendWords, jarsOf, momentIn, titleOf } from "./maker-pages.ts";

export interface BenchLists {
  /** Those that have waited longest. */
  readonly waiting: readonly OrderRow[];
  readonly toSend: readonly ListedOrder[];
  readonly held: readonly ListedOrder[];
  readonly batches: Awaited<ReturnType<Batches["open"]>>;
  /** How many there are of each, counted to a limit. */
  readonly counts: { readonly waiting: number; readonly toSend: number; readonly held: number };
}

/** What only an owner sees. */
export interface OwnersLists {
  readonly steps: readonly FirstStep[];
  readonly margins: MarginReport | undefined;
  /** What could not be told to somebody; empty while all is well. */
  readonly untold: string;
}

export function benchPage(
  shop: ShopRow,
  lists: BenchLists,
  { steps, margins, untold }: OwnersLists,
) {
  const when = momentIn(shop);
  const { counts } = lists;
  const line = ({ order, quote }: OrderWithQuote<ListedOrder>) => ({
    reference: order.reference,
    jars: jarsOf(quote),
    because: order.heldBecause,
  });
  return {
    title: "Bench",
    headline: nextThing(lists, steps),
    margins: marginWords(margins),
    untold,
    /** Work comes before first steps. */
    work: counts.held + counts.waiting + counts.toSend + lists.batches.length > 0,
    steps: stepModels(steps),
    stepsDone: steps.filter(({ done }) => done).length,
    held: lists.held.map((order) => line(withQuote(order))),
    heldCount: countOf(counts.held, "order"),
    groups: groupByBase(lists.waiting.map((row) => withQuote(row))).map((base) => {
      let ticked = 0;
      return {
        title: titleOf(base.quote),
        several: base.blends.length > 1,
        blends: base.blends.map(({ quote, orders }) => ({
          words: blendWords(quote),
          orders: orders.map(({ order, quote: own }) => ({
            id: order.id,
            reference: order.reference,
            jars: jarsOf(own),
            paid: order.paidAt === null ? "" : when(order.paidAt),
            // Who asked to cancel waits for an answer first.
            asked: order.cancelAskedAt !== null,
            ticked: order.cancelAskedAt === null && ++ticked <= ORDERS_MOST,
          })),
        })),
      };
    }),
    longest: counts.waiting > lists.waiting.length ? String(lists.waiting.length) : "",
    waitingCount: countOf(counts.waiting, "order"),
    batches: lists.batches.map(({ number, kind, issuedAt }) => ({
      number,
      trial: kind === "trial",
      issued: when(issuedAt),
    })),
    toSend: lists.toSend.map((order) => line(withQuote(order))),
    sendMore: counts.toSend > lists.toSend.length ? countOf(counts.toSend, "order") : "",
  };
}

function stepModels(steps: readonly FirstStep[]) {
  const next = steps.findIndex(({ done }) => !done);
  return steps.map((step, at) => ({ ...step, next: at === next, mark: step.done ? "●" : "○" }));
}

/** Two sentences at most; nothing while all is well. */
function marginWords(margins: MarginReport | undefined): string {
  if (!margins) return "";
  const { fallen, unsold } = margins;
  const bases = new Set(fallen.map(({ product, base }) => `${product.id} ${base.id}`)).size;
  const less = bases === 1 ? "1 base earns" : `${bases} bases earn`;
  return [
    ...(bases > 0 ? [`${less} less than you asked for.`] : []),
    ...(unsold.length > 0 ? ["Something for sale cannot be priced."] : []),
  ].join(" ");
}

function nextThing({ counts, batches }: BenchLists, steps: readonly FirstStep[]): string {
  if (counts.held > 0) return `${countOf(counts.held, "order")} to look into`;
  if (batches.length > 0) return `${countWords(batches.length, "batch", "batches")} on the bench`;
  if (counts.waiting > 0) return `${countOf(counts.waiting, "paid order")} to make`;
  if (counts.toSend > 0) return `${countOf(counts.toSend, "order")} to send`;
  return steps.length > 0 ? "Your shop, step by step" : "Nothing waits for you";
}

/** A count that stops at a limit says so. */
function countOf(n: number, noun: string): string {
  return n > COUNT_MOST ? `More than ${COUNT_MOST} ${noun}s` : countWords(n, noun);
}
