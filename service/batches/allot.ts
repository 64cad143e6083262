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

/** For each run and line of its weigh list, what to take from which lot; a corrected run gets its own lots first. */
export function allotLots(runs: readonly BatchRun[], needs: readonly Need[]): Allotted[][][] {
  const left = new Map(
    needs.map(({ ingredient, portions }) => [ingredient, portions.map((each) => ({ ...each }))]),
  );
  const dealt = runs.map((run) =>
    linesOf(run).map(({ ingredient, targetMg }) => ({
      ...{ ingredient, restMg: targetMg, lots: keptBy(run, ingredient) },
      taken: [] as Allotted[],
    })),
  );
  for (const isKept of [true, false]) {
    for (const line of dealt.flat()) {
      for (const portion of left.get(line.ingredient) ?? []) {
        if (isKept && !line.lots.includes(portion.lot.id)) continue;
        const takeMg = Math.min(line.restMg, portion.takeMg);
        if (takeMg === 0) continue;
        const same = line.taken.findIndex(({ lot }) => lot === portion.lot);
        if (same < 0) line.taken.push({ lot: portion.lot, takeMg });
        else line.taken[same] = { lot: portion.lot, takeMg: line.taken[same]!.takeMg + takeMg };
        portion.takeMg -= takeMg;
        line.restMg -= takeMg;
      }
    }
  }
  return dealt.map((lines) =>
    lines.map(({ taken, restMg }) =>
      restMg > 0 ? [...taken, { lot: undefined, takeMg: restMg }] : taken,
    ),
  );
}

/** What corrected runs are to take of an ingredient from the lots they were corrected for, by lot [mg] */
export function keptOf(runs: readonly BatchRun[], ingredient: string): Map<string, number> {
  const kept = new Map<string, number>();
  for (const run of runs) {
    const line = linesOf(run).find((each) => each.ingredient === ingredient);
    if (!line) continue;
    let restMg = line.targetMg;
    for (const { ingredient: of, lotId, takeMg } of run.correction?.lots ?? []) {
      if (of !== ingredient) continue;
      const mg = Math.min(restMg, takeMg);
      kept.set(lotId, (kept.get(lotId) ?? 0) + mg);
      restMg -= mg;
    }
  }
  return kept;
}

function keptBy({ correction }: BatchRun, ingredient: string): string[] {
  const lots = correction?.lots.filter((lot) => lot.ingredient === ingredient) ?? [];
  return lots.map(({ lotId }) => lotId);
}
