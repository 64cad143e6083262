/**
 * The lots suggested for a batch, dealt out to its runs in the order they are made.
 */
import type { LotRow } from "../storage/stock.ts";
import type { Need } from "./plan.ts";
import { type BatchRun, linesOf } from "./sheets.ts";

export interface Allotted {
  /** Nothing for what no lot can give. */
  readonly lot: LotRow | undefined;
  readonly takeMg: number;
}

/** For each run and line of its weigh list, what to take from which lot. */
export function allotLots(runs: readonly BatchRun[], needs: readonly Need[]): Allotted[][][] {
  const left = new Map(
    needs.map(({ ingredient, portions }) => [ingredient, portions.map((each) => ({ ...each }))]),
  );
  return runs.map((run) =>
    linesOf(run).map(({ ingredient, targetMg }) => {
      const taken: Allotted[] = [];
      let restMg = targetMg;
      for (const portion of left.get(ingredient) ?? []) {
        const takeMg = Math.min(restMg, portion.takeMg);
        if (takeMg === 0) continue;
        taken.push({ lot: portion.lot, takeMg });
        portion.takeMg -= takeMg;
        restMg -= takeMg;
      }
      return restMg > 0 ? [...taken, { lot: undefined, takeMg: restMg }] : taken;
    }),
  );
}
