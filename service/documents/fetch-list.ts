/**
 * What all runs of a batch need of each ingredient together, in the order they are first weighed.
 */
import { type BatchRun, bulkMgOf, linesOf } from "../batches/sheets.ts";
import type { LotsSuggested } from "./batch-sheets.ts";
import { gramsLike } from "./load-tables.ts";
import { codesOf, namesOn } from "./sheet-lines.ts";
import type { Tongue } from "./tongue.ts";

/**
 * The list in words.
 * @param runs at least one; masses are written with the decimals of the first one's scale [g]
 */
export function fetchList(runs: readonly BatchRun[], lots: LotsSuggested, tongue: Tongue) {
  const grams = gramsLike(runs[0]!, tongue);
  const ids = [...new Set(runs.flatMap(linesOf).map(({ ingredient }) => ingredient))];
  const lines = ids.map((id) => {
    const found = runs.map((run) => linesOf(run).find(({ ingredient }) => ingredient === id));
    const taken = found.flatMap((line, run) => (line && lots[run]?.[line.line - 1]) ?? []);
    const sumMg = found.reduce((sum, line) => sum + (line?.targetMg ?? 0), 0);
    return {
      name: namesOn(runs[found.findIndex((line) => line)]!, tongue.locale)(id),
      runsG: found.map((line) => (line ? grams(line.targetMg) : "–")),
      sumG: grams(sumMg),
      lots: codesOf(taken),
    };
  });
  return {
    lines,
    heads: runs.map((_, at) => tongue.say("sheet.runG", { run: at + 1 })),
    runSumsG: runs.map((run) => grams(bulkMgOf(run))),
    sumG: grams(runs.reduce((sum, run) => sum + bulkMgOf(run), 0)),
  };
}
