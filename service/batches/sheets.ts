/**
 * The stored work order of a batch: one sheet a run, with how often the vessel is filled for it.
 */
import type { WeighLine } from "#core/make/work-order.ts";
import type { KeptCorrection, Sheet, SheetChange } from "./correction-shape.ts";

export interface BatchRun extends Sheet {
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

/** Read the sheets of a batch. Those from before weigh lines named their ingredient are read by its name. */
export function readSheets(workOrder: string): BatchSheets {
  const { runs, ...rest } = JSON.parse(workOrder) as BatchSheets;
  return {
    ...rest,
    runs: runs.map((run) => {
      const weighList = run.workOrder.weighList.map((group) => ({
        ...group,
        lines: group.lines.map((line) => ({ ...line, ingredient: line.ingredient ?? line.name })),
      }));
      return { ...run, workOrder: { ...run.workOrder, weighList } };
    }),
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
