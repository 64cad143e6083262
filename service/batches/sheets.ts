/**
 * The stored work order of a batch: one sheet a run, with how often the vessel is filled for it.
 */
import type { WeighLine } from "#core/make/work-order.ts";
import { readWorkOrder } from "./older-sheets.ts";
import type { KeptCorrection, Sheet, SheetChange } from "./correction-shape.ts";

export interface BatchRun extends Sheet {
  /** What it is made of: a published version, or a draft when it is a trial. A batch from before has neither. */
  readonly product?: { readonly id: string; readonly version?: number };
  /** Missing while the blend is made as it was ordered. */
  readonly correction?: KeptCorrection;
}

/** What a batch is made by: one sheet for each blend in it. */
export interface BatchSheets {
  readonly runs: readonly BatchRun[];
  /** What was changed since it was issued; missing when nothing was. */
  readonly changes?: readonly SheetChange[];
}

/** Number of the sheets as they stand now, from 1: what was printed of an earlier one is void. */
export function editionOf({ changes = [] }: BatchSheets): number {
  return changes.length + 1;
}

/** Read the sheets of a batch. */
export function readSheets(workOrder: string): BatchSheets {
  const { runs, ...rest } = JSON.parse(workOrder) as BatchSheets;
  return {
    ...rest,
    runs: runs.map((run) => ({ ...run, workOrder: readWorkOrder(run.workOrder) })),
  };
}

/** Lines of a run's weigh list, in the order weighed. */
export function linesOf({ workOrder }: BatchRun): WeighLine[] {
  return workOrder.weighList.flatMap(({ lines }) => lines);
}

/** What a run weighs in all [mg] */
export function bulkMgOf(run: BatchRun): number {
  return linesOf(run).reduce((sum, { targetMg }) => sum + targetMg, 0);
}
