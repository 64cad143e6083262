/**
 * The stored work order of a batch: one sheet a run, with how often the vessel is filled for it.
 */
import type { WeighLine, WorkOrder } from "#core/make/work-order.ts";

export interface BatchRun {
  readonly workOrder: WorkOrder;
  /** How many times the vessel is filled for it. */
  readonly loads: number;
  /** What each load weighs of each line of the weigh list; missing when there is one load [mg] */
  readonly loadTargetsMg?: readonly (readonly number[])[];
}

/** What a batch was issued as: one sheet for each blend in it. */
export interface BatchSheets {
  readonly runs: readonly BatchRun[];
}

/** Read the sheets of a batch. Those from before weigh lines named their ingredient are read by its name. */
export function readSheets(workOrder: string): BatchSheets {
  const { runs } = JSON.parse(workOrder) as BatchSheets;
  return {
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
