/**
 * How far a blend with one ingredient changed is from the blend as it was, figure by figure; weights as `stand-in.ts`
 * states them.
 */
import { type Blend, WHOLE } from "../blend.ts";
import type { Ingredient } from "../ingredient.ts";
import type { Oxidation } from "../judge/oxidation.ts";
import { gradeOf } from "../judge/pore-rating.ts";
import type { Judgement } from "../judge/verdict.ts";
import { judgeInFull } from "../judge/whole-judgement.ts";
import type { PackCost } from "../price/policy.ts";
import { THICKNESS_STEP, YIELD_STEP } from "./felt-steps.ts";
import type { JudgingGround } from "./rule-check.ts";
import type { Shift, StandIn, StandInFigure } from "./stand-in.ts";

export interface StandInGround extends JudgingGround {
  /** By ingredient id; without them cost is unknown. */
  readonly costs?: Readonly<Record<string, PackCost>>;
}

/** A blend judged, with what is compared beside the judgement. */
export interface Standing {
  readonly judgement: Judgement;
  readonly grade: number | undefined;
  readonly costMinorPerKg: number | undefined;
  readonly families: ReadonlySet<string>;
}

export function standing(blend: Blend, own: Ingredient, ground: StandInGround): Standing {
  const { costs, ...question } = ground;
  return {
    judgement: judgeInFull(blend, { ...question, celsius: [] }),
    grade: gradeOf({ ingredient: own, share: 1 }, ground.rules),
    costMinorPerKg: costOf(blend, costs),
    families: new Set(blend.parts.flatMap(({ ingredient }) => ingredient.allergenFamilies)),
  };
}

const MG_PER_KG = 1_000_000;

/** Nothing while a cost is missing. */
function costOf({ parts }: Blend, costs: StandInGround["costs"]): number | undefined {
  let minor = 0;
  for (const { ingredient, share } of parts) {
    const cost = costs?.[ingredient.id];
    if (!cost || !(cost.packMg > 0)) return undefined;
    minor += (share / WHOLE) * MG_PER_KG * (cost.packMinor / cost.packMg);
  }
  return minor;
}

const COST_STEP = 0.1;
const WEIGHT = { firmness: 3, softens: 2, brings: 4, takesAway: 0.5, unknown: 1 };
const OXIDATION_ORDER: readonly Oxidation["order"][] = ["steady", "ordinary", "quick"];

/**
 * Compare two blends.
 * @param ingredient id of what stands in
 * @param was as it was
 * @param is with the stand-in
 */
export function compare(ingredient: string, was: Standing, is: Standing): StandIn {
  const unknown: StandInFigure[] = [];
  let distance = 0;
  const shift = <Value>(
    figure: StandInFigure,
    from: Value | undefined,
    to: Value | undefined,
    steps: (from: Value, to: Value) => number,
  ): Shift<Value> | undefined => {
    if (from === undefined || to === undefined) {
      unknown.push(figure);
      distance += WEIGHT.unknown;
      return undefined;
    }
    distance += steps(from, to);
    return { from, to };
  };
  const [old, now] = [was.judgement, is.judgement];
  const yields = shift("firmness", old.firmness?.yieldPa, now.firmness?.yieldPa, yieldSteps);
  const softens = shift(
    "softens-above",
    old.softensAboveCelsius,
    now.softensAboveCelsius,
    (from, to) => WEIGHT.softens * Math.abs(to - from),
  );
  const grade = shift("pore-grade", was.grade, is.grade, (from, to) => Math.max(0, to - from));
  const thickness = shift(
    "oil-phase",
    old.oilPhase?.viscosityMm2PerS,
    now.oilPhase?.viscosityMm2PerS,
    (from, to) => Math.abs(Math.log(to / from)) / THICKNESS_STEP,
  );
  const oxidation = shift("oxidation", knownOrder(old), knownOrder(now), (from, to) =>
    Math.max(0, OXIDATION_ORDER.indexOf(to) - OXIDATION_ORDER.indexOf(from)),
  );
  const cost = shift("cost", was.costMinorPerKg, is.costMinorPerKg, (from, to) =>
    from > 0 ? Math.max(0, to / from - 1) / COST_STEP : 0,
  );
  const brings = [...is.families].filter((family) => !was.families.has(family)).sort();
  const takesAway = [...was.families].filter((family) => !is.families.has(family)).sort();
  distance += WEIGHT.brings * brings.length + WEIGHT.takesAway * takesAway.length;
  const { verdict, findings } = now;
  return {
    ...{ ingredient, verdict, findings, distance, brings, takesAway, unknown },
    ...(yields && old.firmness && now.firmness
      ? { yieldPa: yields, firmness: { from: old.firmness.settled, to: now.firmness.settled } }
      : {}),
    ...(softens ? { softensAboveCelsius: softens } : {}),
    ...(grade ? { poreGrade: grade } : {}),
    ...(thickness ? { viscosityMm2PerS: thickness } : {}),
    ...(oxidation ? { oxidation } : {}),
    ...(cost ? { costMinorPerKg: cost } : {}),
  };
}

/** A blend without solids has a yield value of nothing: no step can be told from it, or to it. */
function yieldSteps(from: number, to: number): number {
  if (from === to) return 0;
  const ratio = Math.min(1000, Math.max(0.001, to / from));
  return (WEIGHT.firmness * Math.abs(Math.log(ratio))) / YIELD_STEP;
}

function knownOrder({ oxidation }: Judgement): Oxidation["order"] | undefined {
  return oxidation?.order === "cannot-judge" ? undefined : oxidation?.order;
}
