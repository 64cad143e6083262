/**
 * The runs of a batch judged again with the lots that go into them, and the correction that brings a run back to what
 * its orders were promised. Nothing is stored here.
 */
import type { Choice } from "#core/compose/product.ts";
import { composeBlend } from "#core/compose/compose.ts";
import type { Finding } from "#core/finding.ts";
import {
  type JudgedLots,
  type LotShift,
  type NoLotShift,
  correctForLots,
  judgeLots,
} from "#core/make/lot-correction.ts";
import { pantryOf } from "../actions/pantry.ts";
import type { Shop } from "../ports.ts";
import { Refusal } from "../problem.ts";
import type { BatchRow } from "../storage/batches.ts";
import type { OrderRow } from "../storage/orders.ts";
import type { LotRow } from "../storage/stock.ts";
import { allotLots } from "./allot.ts";
import type { Bench } from "./bench-day.ts";
import { type RunGround, groundsOf } from "./correction-ground.ts";
import { type LotFault, type RunLots, lotsOfRun } from "./correction-lots.ts";
import { type Need, needsOf } from "./plan.ts";
import { writeRun } from "./run.ts";
import { type BatchRun, linesOf } from "./sheets.ts";

/** Why nobody can judge the lots of a run. */
export type NotJudged =
  /** Nobody was promised anything: a trial, or all orders of the run have left it. */
  | { readonly kind: "not-asked" }
  /** No lot of it has a certificate. */
  | { readonly kind: "no-certificate" }
  | {
      readonly kind: "cannot-judge";
      readonly faults: readonly LotFault[];
      readonly findings: readonly Finding[];
    };

/** What the lots make of a run as its sheet stands now. */
export type RunVerdict = NotJudged | JudgedLots;

export interface BatchLooked {
  readonly batch: BatchRow;
  readonly runs: readonly BatchRun[];
  readonly members: readonly OrderRow[];
  readonly needs: readonly Need[];
}

const NO_CHOICE: ReadonlyMap<string, LotRow> = new Map();

/** Judge every run of an open batch with the lots that are suggested for it. */
export async function judgeRuns(
  shop: Shop,
  bench: Bench,
  { batch, runs, members, needs }: BatchLooked,
): Promise<readonly RunVerdict[]> {
  if (batch.state !== "open" || batch.kind === "trial") return runs.map(() => NOT_ASKED);
  const allotted = allotLots(runs, needs);
  const { ingredientOf } = await pantryOf(
    shop,
    bench.shopId,
    needs.map(({ ingredient }) => ingredient),
  );
  const lots = runs.map((run, at) => lotsOfRun(run, allotted[at]!, NO_CHOICE, ingredientOf));
  if (!lots.some(isCertified)) return runs.map(() => ({ kind: "no-certificate" }));
  const grounds = await groundsOf(shop, bench, runs, members, ingredientOf);
  return runs.map((run, at): RunVerdict => {
    const ground = grounds[at];
    if (!ground) return NOT_ASKED;
    if (!isCertified(lots[at]!)) return { kind: "no-certificate" };
    return judgeRun(ground, run.correction?.choice ?? ground.ordered, lots[at]!);
  });
}

const NOT_ASKED: NotJudged = { kind: "not-asked" };

function judgeRun(ground: RunGround, choice: Choice, lots: RunLots): RunVerdict {
  if (lots.faults.length > 0) return { kind: "cannot-judge", faults: lots.faults, findings: [] };
  const judged = judgeLots({ ...ground, choice, lotOf: lots.lotOf });
  return judged.kind === "cannot-judge" ? { ...judged, faults: [] } : judged;
}

/** A run looked at for its correction. */
export interface Correction {
  readonly at: number;
  readonly run: BatchRun;
  readonly ground: RunGround | undefined;
  /** Lots of the run as it is proposed, or as it was ordered when nothing is. */
  readonly lots: RunLots;
  readonly chosen: ReadonlyMap<string, LotRow>;
  readonly answer:
    | NotJudged
    | (JudgedLots & { readonly kind: "holds" })
    | NoLotShift
    | (LotShift & { readonly sheet: BatchRun })
    /** The shares would do, and no work order can be written for them. */
    | { readonly kind: "no-sheet"; readonly shift: LotShift; readonly because: string };
}

/** With two lots in one weighing their proportion moves with the shares: looked at again so often at most. */
const ROUNDS_MOST = 4;

/**
 * Look for the correction of a run.
 * @param at place of a run that is there, from 0
 * @param chosen lots that are to be taken instead of those suggested, by ingredient
 */
export async function correctionOf(
  shop: Shop,
  bench: Bench,
  { batch, runs, members }: Omit<BatchLooked, "needs">,
  at: number,
  chosen: ReadonlyMap<string, LotRow>,
): Promise<Correction> {
  const run = runs[at]!;
  const issued: BatchRun = run.correction?.issued ?? run;
  const sheetsWith = (sheet: BatchRun) => runs.map((each, place) => (place === at ? sheet : each));
  const ids = runs.flatMap(linesOf).map(({ ingredient }) => ingredient);
  const { ingredientOf } = await pantryOf(shop, bench.shopId, ids);
  const grounds =
    batch.kind === "trial"
      ? []
      : await groundsOf(shop, bench, sheetsWith(issued), members, ingredientOf);
  const ground = grounds[at];
  const lotsOf = async (sheet: BatchRun) => {
    const sheets = sheetsWith(sheet);
    const needs = await needsOf(shop, bench, sheets);
    return lotsOfRun(sheet, allotLots(sheets, needs)[at]!, chosen, ingredientOf);
  };
  let lots = await lotsOf(issued);
  const looked = (answer: Correction["answer"]) => ({ at, run, ground, lots, chosen, answer });
  if (!ground) return looked(NOT_ASKED);
  if (!isCertified(lots)) return looked({ kind: "no-certificate" });
  for (let round = 0; round < ROUNDS_MOST; round++) {
    if (lots.faults.length > 0) {
      return looked({ kind: "cannot-judge", faults: lots.faults, findings: [] });
    }
    const answer = correctForLots({ ...ground, choice: ground.ordered, lotOf: lots.lotOf });
    if (answer.kind === "cannot-judge") return looked({ ...answer, faults: [] });
    if (answer.kind !== "shift") return looked(answer);
    const written = sheetOf(bench, issued, ground, answer.choice, lots);
    if ("because" in written) {
      return looked({ kind: "no-sheet", shift: answer, because: written.because });
    }
    const now = await lotsOf(written.sheet);
    const settled = judgeRun(ground, answer.choice, now);
    lots = now;
    if (settled.kind === "holds") {
      return looked({ ...answer, corrected: settled.lots, sheet: written.sheet });
    }
  }
  const fault: LotFault = { ingredient: "", code: "unsettled", lots: [], findings: [] };
  return looked({ kind: "cannot-judge", faults: [fault], findings: [] });
}

/** The sheet of a corrected choice: the same jars and the same day, weighed and melted by the lots that go in. */
function sheetOf(
  bench: Bench,
  { workOrder, product: madeOf }: BatchRun,
  { product, law }: RunGround,
  choice: Choice,
  { lotOf }: RunLots,
): { readonly sheet: BatchRun } | { readonly because: string } {
  const composed = composeBlend(product, choice, lotOf);
  if ("findings" in composed) throw new Error("the correction does not keep the bounds");
  const { batchNumber, productName, baseName, jars, lossShare, madeOnISO } = workOrder;
  try {
    const sheet = writeRun(
      { ...bench, today: madeOnISO },
      {
        ...{ batchNumber, productName, baseName, lossShare, law },
        orders: jars.map(({ volumeMl: _, ...order }) => order),
        blend: composed.blend,
        airFraction: product.airFraction,
        useCelsius: product.useCelsius,
      },
    );
    return { sheet: madeOf ? { ...sheet, product: madeOf } : sheet };
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    return { because: error.message };
  }
}

function isCertified({ lines }: RunLots): boolean {
  return lines.some((line) => line.isCertified);
}
