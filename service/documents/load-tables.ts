/**
 * Targets of the loads that a vessel holds a run in, a few loads to a table.
 */
import { gramsOnScale } from "#core/make/scale.ts";
import { type BatchRun, linesOf } from "../batches/sheets.ts";
import type { NameOf, Tongue } from "./tongue.ts";

/** More loads than this side by side do not fit the paper. */
const LOADS_ABREAST = 3;

/** Tables in words; none where the vessel holds the run in one load. Targets are in grams. */
export function loadTables(run: BatchRun, tongue: Tongue, nameOf: NameOf) {
  const loads = run.loadTargetsMg ?? [];
  const grams = gramsLike(run, tongue);
  const tables = [];
  for (let from = 0; from < loads.length; from += LOADS_ABREAST) {
    const abreast = loads.slice(from, from + LOADS_ABREAST);
    tables.push({
      heads: abreast.map((_, at) => tongue.say("sheet.loadTarget", { load: from + at + 1 })),
      lines: linesOf(run).map(({ ingredient }, line) => ({
        name: nameOf(ingredient),
        targets: abreast.map((load) => grams(load[line]!)),
      })),
      sums: abreast.map((load) => grams(load.reduce((sum, each) => sum + each, 0))),
    });
  }
  return tables;
}

/** Grams with the decimals of the run's scale. */
export function gramsLike({ workOrder }: BatchRun, { digits }: Tongue): (mg: number) => string {
  const stepMg = Math.round(Number(workOrder.scaleStepG) * 1000);
  return (mg) => digits(gramsOnScale(mg, stepMg));
}
