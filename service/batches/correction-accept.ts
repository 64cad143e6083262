/**
 * A correction accepted, and taken back: sheet and record change together or not at all, and only before the batch is
 * started.
 */
import type { BlendFigures, LotShift } from "#core/make/lot-correction.ts";
import type { Shop } from "../ports.ts";
import { Refusal } from "../problem.ts";
import { Conflict } from "../storage/database.ts";
import type { BatchRow } from "../storage/batches.ts";
import type { Hand } from "./close.ts";
import type { Correction } from "./correction.ts";
import type { KeptCorrection, KeptFigures, KeptLot, SheetChange } from "./correction-shape.ts";
import { becauseOf, namesFrom, sayBecause } from "./correction-words.ts";
import { recordWith } from "./record.ts";
import { issuedBody } from "./record-told.ts";
import { type BatchRun, type BatchSheets, readSheets } from "./sheets.ts";

/** Shares of a proposal in one word, by which it is known again: "cocoa-butter 2721, …". */
export function proposalKey(
  { choice }: Pick<LotShift, "choice">,
  lots: readonly KeptLot[],
): string {
  const shares = [...choice.butters, ...choice.oils].map(
    (each) => `${each.ingredient} ${each.share}`,
  );
  return [...shares, ...lots.map(({ lotId }) => lotId)].join(", ");
}

/** The lots a correction is worked out for: those with a certificate, and those somebody chose. */
export function lotsToKeep({ lots, chosen }: Pick<Correction, "lots" | "chosen">): KeptLot[] {
  return lots.lines
    .filter(({ ingredient, isCertified }) => isCertified || chosen.has(ingredient))
    .flatMap(({ ingredient, portions }) =>
      portions.map(({ lot, takeMg }) => ({ ingredient, lotId: lot.id, code: lot.code, takeMg })),
    );
}

/**
 * Accept the correction that somebody has looked at.
 * @param seen key of the proposal on the page
 * @returns whether it was stored; not when the shelf gives another proposal by now, which is to be looked at first
 * @throws Refusal make.batch.refused, order.state.conflict
 */
export async function acceptCorrection(
  shop: Shop,
  batch: BatchRow,
  correction: Correction,
  seen: string,
  hand: Hand,
): Promise<boolean> {
  const { answer, ground, at, run } = correction;
  if (run.correction) {
    throw new Refusal(
      "order.state.conflict",
      "This run is corrected already. Nothing was changed: take that correction back before you make another.",
    );
  }
  const lots = lotsToKeep(correction);
  if (answer.kind !== "shift" || !ground || proposalKey(answer, lots) !== seen) return false;
  const { correction: _, ...issued } = run;
  const told = becauseOf(answer, correction.lots.lines);
  const kept: KeptCorrection = {
    at: shop.clock.seconds(),
    by: hand.name,
    because: sayBecause(told, namesFrom(ground.ingredientOf)),
    told,
    choice: answer.choice,
    ordered: keptFigures(answer.lots),
    corrected: keptFigures(answer.corrected),
    ...{ lots, issued },
  };
  await rewrite(shop, batch, hand, {
    ...{ at, what: "corrected", because: kept.because },
    run: { ...answer.sheet, correction: kept },
  });
  return true;
}

/** @throws Refusal make.batch.refused, order.state.conflict */
export async function takeCorrectionBack(
  shop: Shop,
  batch: BatchRow,
  at: number,
  hand: Hand,
): Promise<void> {
  const kept = readSheets(batch.workOrder).runs[at]?.correction;
  if (!kept) {
    throw new Refusal(
      "order.state.conflict",
      "There is no correction to take back: this run is made as it was ordered.",
    );
  }
  await rewrite(shop, batch, hand, {
    ...{ at, what: "taken-back", run: kept.issued },
    because: "The correction was taken back: made as it was ordered.",
  });
}

interface Rewriting {
  readonly at: number;
  /** The run as it is to be made from now on. */
  readonly run: BatchRun;
  readonly what: SheetChange["what"];
  readonly because: string;
}

async function rewrite(
  shop: Shop,
  batch: BatchRow,
  hand: Hand,
  { at, run, what, because }: Rewriting,
): Promise<void> {
  const sheets = readSheets(batch.workOrder);
  const change: SheetChange = { at: shop.clock.seconds(), by: hand.name, run: at, what };
  const after: BatchSheets = {
    runs: sheets.runs.map((each, place) => (place === at ? run : each)),
    changes: [...(sheets.changes ?? []), change],
  };
  const workOrder = JSON.stringify(after);
  const issued = await issuedBody({ ...batch, workOrder });
  const body = { run: at, what, because, issued };
  const told = { kind: "lot-correction" as const, by: hand.name, body };
  try {
    // Looked at in every try: who starts the batch meanwhile writes into the same record and comes first.
    await recordWith(shop, batch, told, async (statements) => {
      await refuseOnceStarted(shop, batch);
      const write = shop.batches.sheetStatements(batch.id, batch.workOrder, workOrder);
      await shop.db.atomic([...write, ...statements]);
    });
  } catch (error) {
    if (!(error instanceof Conflict)) throw error;
    throw new Refusal(
      "order.state.conflict",
      `Batch ${batch.number} has just changed. Nothing was stored now: please look again.`,
    );
  }
}

/** Whether somebody has written down that the batch was started. */
export async function isStarted(shop: Shop, batchId: string): Promise<boolean> {
  return (await shop.batchRecord.lastOf(batchId, "started")) !== undefined;
}

async function refuseOnceStarted(shop: Shop, { id, number, state }: BatchRow): Promise<void> {
  if (state !== "open") {
    throw new Refusal(
      "order.state.conflict",
      `Batch ${number} is not on the bench any more. Its shares stand as they are.`,
    );
  }
  if (await isStarted(shop, id)) {
    throw new Refusal(
      "order.state.conflict",
      `Batch ${number} has been started, so its shares stand. Nothing was changed; ` +
        "what goes otherwise is written into its record.",
    );
  }
}

function keptFigures({ blend: _blend, against: _against, ...figures }: BlendFigures): KeptFigures {
  return figures;
}
