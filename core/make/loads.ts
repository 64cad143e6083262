/**
 * A bulk that the vessel cannot hold at once -> equal loads, each weighed on its own.
 *
 * Method: the least number of loads is the bulk over what the vessel holds, both in steps of the scale, rounded up.
 * Every ingredient is then dealt out to the loads step by step: each load gets the whole part of its due, and the
 * steps that are left go round the loads like cards, the next ingredient going on where the last one stopped. So no
 * two loads differ by more than a step in any ingredient or in the whole, and nothing is lost or added.
 */
import { type Finding, finding } from "../finding.ts";
import { STEPS_LEAST, gramsOnScale, tooLight } from "./scale.ts";

export interface LoadTarget {
  readonly ingredientId: string;
  /** Of the whole run, a multiple of the scale's step [mg] */
  readonly targetMg: number;
}

export interface Load {
  /** What the load weighs; the sum of its targets [mg] */
  readonly bulkMg: number;
  /** What the scale must show, in the order of the targets given [mg] */
  readonly targetsMg: readonly number[];
}

/**
 * Split the weigh list of a run into loads of the vessel.
 * @param targets of the whole run; multiples of the scale's step
 * @param vesselMg what the vessel holds at once [mg]
 * @param scaleStepMg smallest step the scale shows [mg]
 * @returns the least number of equal loads; or findings: a vessel smaller than a step, or an ingredient too light for
 *   the scale once it is split
 */
export function splitLoads(
  targets: readonly LoadTarget[],
  vesselMg: number,
  scaleStepMg: number,
): { readonly loads: readonly Load[] } | { readonly findings: readonly Finding[] } {
  const holds = Math.floor(vesselMg / scaleStepMg);
  if (!Number.isSafeInteger(vesselMg) || holds < 1) {
    const limit = `at least one step of the scale, ${gramsOnScale(scaleStepMg, scaleStepMg)} g`;
    const measured = `${vesselMg / 1000} g`;
    return { findings: [finding("make.batch.impossible", "the vessel", { limit, measured })] };
  }
  const steps = targets.map(({ targetMg }) => targetMg / scaleStepMg);
  const bulk = steps.reduce((sum, each) => sum + each, 0);
  const count = Math.max(1, Math.ceil(bulk / holds));
  const findings = targets.flatMap(({ ingredientId, targetMg }, at) => {
    const lightest = Math.floor(steps[at]! / count);
    if (targetMg === 0 || lightest >= STEPS_LEAST) return [];
    return [tooLight(ingredientId, lightest * scaleStepMg, scaleStepMg)];
  });
  if (findings.length > 0) return { findings };
  return { loads: dealOut(steps, count, scaleStepMg) };
}

/** Rows of whole numbers whose sums are kept both ways, to within one. */
function dealOut(steps: readonly number[], count: number, scaleStepMg: number): Load[] {
  const loads = Array.from({ length: count }, () => [] as number[]);
  let next = 0;
  for (const whole of steps) {
    const part = Math.floor(whole / count);
    const extra = whole % count;
    loads.forEach((load, at) => {
      const isDealt = (at - next + count) % count < extra;
      load.push((part + (isDealt ? 1 : 0)) * scaleStepMg);
    });
    next = (next + extra) % count;
  }
  return loads.map((targetsMg) => ({
    bulkMg: targetsMg.reduce((sum, each) => sum + each, 0),
    targetsMg,
  }));
}
