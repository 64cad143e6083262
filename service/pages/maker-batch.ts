/**
 * One batch: what is to be made, or what became of it.
 */
import type { BatchClosing, ClosedRun } from "../batches/closing-shape.ts";
import { actualMgOf } from "../batches/closing-shape.ts";
import type { Need } from "../batches/plan.ts";
import type { BodyOf } from "../batches/record-shapes.ts";
import { type BatchRun, bulkMgOf, linesOf } from "../batches/sheets.ts";
import { helpers } from "../documents/helpers.ts";
import { tongueOf } from "../documents/tongue.ts";
import type { BatchRow } from "../storage/batches.ts";
import type { OrderRow } from "../storage/orders.ts";
import type { ShopRow } from "../storage/shops.ts";
import { withQuote } from "../batches/groups.ts";
import type { CorrectionNote } from "./maker-batch-correction-note.ts";
import { decisionWords } from "./maker-batch-record-entry.ts";
import { disputeWords } from "./maker-order-money.ts";
import { gramsIn, jarsOf, momentIn, stateWords } from "./maker-pages.ts";

export interface BatchShown {
  readonly batch: BatchRow;
  readonly runs: readonly BatchRun[];
  readonly members: readonly OrderRow[];
  /** What it takes from the shelf; empty once it is made. */
  readonly needs: readonly Need[];
  readonly closing: BatchClosing | undefined;
  /** What is said of the lots of each run. */
  readonly lotNotes: readonly (CorrectionNote | undefined)[];
  /** What its record says of its release; nothing while nobody has decided. */
  readonly decision: BodyOf<"release"> | undefined;
}

export function batchPage(shop: ShopRow, shown: BatchShown) {
  const { batch, runs, closing } = shown;
  const when = momentIn(shop);
  const grams = gramsIn(shop);
  const { number, state, kind } = batch;
  return {
    title: `Batch ${number}`,
    number,
    trial: kind === "trial",
    state: STATE_WORDS[state],
    open: state === "open",
    aside: state === "set-aside",
    issued: when(batch.issuedAt),
    closed: batch.closedAt === null ? "" : when(batch.closedAt),
    several: runs.length > 1,
    runs: runs.map((run, at) => ({
      run: at + 1,
      product: run.workOrder.productName,
      base: run.workOrder.baseName,
      bulk: grams(bulkMgOf(run)),
      loads: run.loads > 1 ? `${run.loads} loads` : "one load",
      lines: linesOf(run).map(({ name, share, targetMg }) => ({
        name,
        share: helpers.percent(share),
        target: grams(targetMg),
      })),
      orders: shown.members
        .filter(({ batchRun }) => (batchRun ?? 0) === at)
        .map((row) => ({
          reference: row.reference,
          jars: jarsOf(withQuote(row).quote),
          state: stateWords(row.state),
          canSend: row.state === "made",
          contested: isContested(row),
        })),
      lotNote: shown.lotNotes[at] ?? (false as const),
      made: closing ? closedRun(closing.runs[at]!, run, grams) : (false as const),
    })),
    decision: shown.decision
      ? {
          words: decisionWords(tongueOf("en"), shown.decision.decision),
          because: shown.decision.because,
          stops: shown.decision.decision !== "released",
        }
      : (false as const),
    short: shown.needs
      .filter(({ isKept, shortMg }) => isKept && shortMg > 0)
      .map(({ name, shortMg }) => ({ name, missing: grams(shortMg) })),
    note: closing?.note ?? "",
    shortOrders: closing?.shortOrders ?? [],
    added: (closing?.added ?? []).map(({ at, by, words }) => ({ when: when(at), by, words })),
  };
}

/** Whether a bank has called the payment in question, so that the owner is asked before the jar leaves. */
export function isContested({ disputeState }: Pick<OrderRow, "disputeState">): boolean {
  return disputeState !== null && disputeWords(disputeState).isOpen;
}

const STATE_WORDS = {
  open: "On the bench",
  made: "Made",
  "set-aside": "Set aside",
} as const;

function closedRun(made: ClosedRun, run: BatchRun, grams: (mg: number) => string) {
  const weighedMg = made.lines.reduce((sum, line) => sum + actualMgOf(line), 0);
  const { cup, celsius } = made;
  return {
    lines: made.lines.map((line) => ({
      name: line.name,
      target: grams(line.targetMg),
      actual: grams(actualMgOf(line)),
      lots: line.portions.map(({ lotId, code, usedMg }) => ({
        lotId,
        words: lotId === null ? "lot not known" : code,
        used: line.portions.length > 1 ? grams(usedMg) : "",
      })),
      why: line.why,
    })),
    weighed: grams(weighedMg),
    jars: `${made.jarsFilled} of ${run.workOrder.jarCount}`,
    left: made.leftMg === null ? "not weighed" : grams(made.leftMg),
    texture: made.texture === null ? "not felt" : made.texture,
    celsius: celsius === null ? "not taken" : `${celsius}\u00a0°C`,
    density: cup === null ? "not taken" : `${(cup.massMg / cup.ul).toFixed(3)}\u00a0g/ml`,
  };
}
