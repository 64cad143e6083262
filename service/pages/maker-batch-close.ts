/**
 * The closing form of a batch: what was typed, or what was to be, still in place.
 */
import { FIRMNESS_CLASSES } from "#core/judge/firmness.ts";
import type { OpenBatch } from "../batches/close.ts";
import type { ClosingFields, LineFields } from "../batches/closing-fields.ts";
import { linesOf } from "../batches/sheets.ts";
import type { ShopRow } from "../storage/shops.ts";
import type { LotRow } from "../storage/stock.ts";
import { gramsIn, jarsOf } from "./maker-pages.ts";

/** Places to write another lot in are shown until a line has this many. */
const PORTIONS_MOST = 12;

export function closeBatchPage(
  shop: ShopRow,
  open: OpenBatch,
  fields: ClosingFields,
  faults: readonly string[],
) {
  const grams = gramsIn(shop);
  const { batch, runs, members, lots, bench } = open;
  const lotsOf = (ingredient: string) => lots.filter((lot) => lot.ingredientId === ingredient);
  return {
    title: `Close batch ${batch.number}`,
    number: batch.number,
    faults,
    several: runs.length > 1,
    runs: runs.map((run, r) => {
      const { lines, ...typed } = fields.runs[r]!;
      return {
        run: r + 1,
        r,
        product: run.workOrder.productName,
        base: run.workOrder.baseName,
        jarCount: run.workOrder.jarCount,
        ...typed,
        lines: linesOf(run).map((line, l) => ({
          l,
          r,
          name: line.name,
          target: grams(line.targetMg),
          why: lines[l]!.why,
          whyOpen: lines[l]!.why !== "" || faults.some((each) => each.includes(line.name)),
          ...portionsOf(lines[l]!, lotsOf(line.ingredient), { r, l, today: bench.today, grams }),
        })),
        grades: FIRMNESS_CLASSES.map((grade) => ({ grade, chosen: grade === typed.texture })),
        orders: members
          .filter(({ order }) => (order.batchRun ?? 0) === r)
          .map(({ order, quote }) => ({
            id: order.id,
            reference: order.reference,
            jars: jarsOf(quote),
            filled: fields.filled.includes(order.id),
          })),
      };
    }),
    note: fields.note,
  };
}

interface Place {
  readonly r: number;
  readonly l: number;
  readonly today: string;
  readonly grams: (mg: number) => string;
}

/** Places to write in: those that were written in, and one more that is folded away. */
function portionsOf({ portions }: LineFields, lots: readonly LotRow[], place: Place) {
  const { r, l, today, grams } = place;
  const written = portions.length === 0 ? [{ lot: "", grams: "" }] : portions;
  const row = (portion: { lot: string; grams: string }, p: number) => ({
    ...{ r, l, p, typed: portion.grams, number: p + 1 },
    lots: [...lots]
      .sort((a, b) => Number(isDoubtful(a, today)) - Number(isDoubtful(b, today)))
      .map((lot) => ({
        id: lot.id,
        words: `${lot.code}: ${grams(lot.onHandMg)}${doubtWords(lot, today)}`,
        chosen: lot.id === portion.lot,
      })),
  });
  const used = written.filter((each, p) => p === 0 || each.lot !== "" || each.grams !== "");
  const spare = used.length < PORTIONS_MOST ? [row({ lot: "", grams: "" }, used.length)] : [];
  return { portions: used.map(row), spare };
}

function isDoubtful({ blockedBecause, bestBefore }: LotRow, today: string): boolean {
  return blockedBecause !== null || (bestBefore !== null && bestBefore < today);
}

function doubtWords({ blockedBecause, bestBefore }: LotRow, today: string): string {
  if (blockedBecause !== null) return ` (blocked: ${blockedBecause})`;
  if (bestBefore === null) return "";
  return bestBefore < today ? ` (past its date, ${bestBefore})` : `, best before ${bestBefore}`;
}
