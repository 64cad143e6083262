/**
 * What one reading says of the yield value of a jar.
 *
 * A cone gives ln C with a normal error. A finger gives a class, so the law is asked how likely it makes that class: by
 * the proportional odds of a logistic error between the class limits (McCullagh 1980, J R Stat Soc B 42:109, from
 * memory). Both are concave in ln C.
 */
import { CLASS_FROM_PA, type FirmnessClass } from "#core/judge/firmness.ts";

export type Reading = { readonly grade: FirmnessClass } | { readonly yieldPa: number };

/** Scatter of ln C about the law: 3 points of solids in 20, squared. Own choice. */
const LAW_SCATTER = 0.3;
/** A finger is off by a third, a cone by a tenth in depth. Own choice [ln C]. */
const FINGER_ERROR = 0.3;
const CONE_ERROR = 0.16;
const FINGER_SCATTER = Math.hypot(LAW_SCATTER, FINGER_ERROR);
const CONE_SCATTER = Math.hypot(LAW_SCATTER, CONE_ERROR);
/** A logistic error of this scale has the finger's standard deviation. */
const LOGISTIC_SCALE = (FINGER_SCATTER * Math.sqrt(3)) / Math.PI;

/**
 * How likely a reading is when the law says this much.
 * @param lnYield what the law says [ln Pa]
 * @returns log likelihood, its slope and its curvature (turned positive) in ln C
 */
export function tell(reading: Reading, lnYield: number) {
  if ("yieldPa" in reading) {
    const miss = Math.log(reading.yieldPa) - lnYield;
    const weight = 1 / CONE_SCATTER ** 2;
    return { likelihood: (-weight * miss * miss) / 2, slope: weight * miss, curvature: weight };
  }
  const [from, to] = limitsOf(reading.grade);
  const below = (from - lnYield) / LOGISTIC_SCALE;
  const above = (to - lnYield) / LOGISTIC_SCALE;
  const [pBelow, pUpTo] = [logistic(below), logistic(above)];
  // P = F(above) - F(below) = F(above) F(-below) (1 - e^(below - above)), which loses no figure in the tails.
  const likelihood = lnLogistic(above) + lnLogistic(-below) + Math.log1p(-Math.exp(below - above));
  const bend = pBelow * (1 - pBelow) + pUpTo * (1 - pUpTo);
  return {
    likelihood,
    slope: (pBelow + pUpTo - 1) / LOGISTIC_SCALE,
    curvature: bend / LOGISTIC_SCALE ** 2,
  };
}

/** Where a class begins and ends [ln Pa]. */
function limitsOf(grade: FirmnessClass): [number, number] {
  const { soft, firm, hard } = CLASS_FROM_PA;
  const edges = [0, soft, firm, hard, Infinity].map(Math.log);
  const at = { fluid: 0, soft: 1, firm: 2, hard: 3 }[grade];
  return [edges[at]!, edges[at + 1]!];
}

function logistic(x: number): number {
  return 1 / (1 + Math.exp(-x));
}

function lnLogistic(x: number): number {
  return x > 0 ? -Math.log1p(Math.exp(-x)) : x - Math.log1p(Math.exp(x));
}
