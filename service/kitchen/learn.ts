/**
 * Test jars -> the kitchen's own firmness law, held towards the published one.
 *
 * Model: ln C = k + m ln(S/20) + a ln((1 - air)/0.65) + lot, with S the settled solids reckoned for the jar [%].
 * Prior: k, m and a are normal about the published law, each lot about 0, with the spreads below. Readings: what
 * `likelihood.ts` makes of them. Every term is concave in the constants and the prior strictly so: there is one best
 * law, and Newton's method finds it. Centred on 20 % solids and 0.35 air, where jars are, because a slope learned
 * there must not swing the scale.
 */
import {
  type FirmnessLaw,
  PUBLISHED_LAW,
  USUAL_AIR_FRACTION,
  yieldPa,
} from "#core/judge/firmness.ts";
import { CholeskyDecomposition, Matrix } from "ml-matrix";
import { type Reading, tell } from "./likelihood.ts";

/** What one jar tells. */
export interface Evidence {
  /** Settled solids reckoned for the blend at the jar's temperature, with a wax's structure, above 0 [% by mass] */
  readonly solidFatPercent: number;
  readonly airFraction: number;
  readonly reading: Reading;
  /** Jars of one lot share an offset; empty when not told. */
  readonly lot: string;
}

/** How sure we are of the published constants before any jar: standard deviations. Own choice. */
export const PRIOR = {
  /** Of ln C: half or twice as firm. Palm oil was a third as hard as a fat of the same solids (read). */
  scale: Math.log(2),
  /** Published exponents run from 1.2 to 8 between fats, mostly below 3. */
  solidsExponent: 0.4,
  /** Foam laws run from 1.5 to 2. */
  airExponent: 0.3,
  /** Of ln C between lots of a butter. */
  lot: 0.2,
};

const USUAL_SOLIDS_PERCENT = 20;
const NEWTON_STEPS = 60;
const CLOSE_ENOUGH = 1e-9;

export interface Learned {
  readonly law: FirmnessLaw;
  /** Standard deviations left: of ln C at 20 % solids and usual air, and of the exponents. */
  readonly spread: { readonly scale: number; readonly solids: number; readonly air: number };
  /** How many times as firm each lot is as the law says, by lot. */
  readonly lots: ReadonlyMap<string, number>;
}

/**
 * Learn the law that the jars and the published constants together make most likely.
 * @param jars in any order; none gives back the published law
 */
export function learnLaw(jars: readonly Evidence[]): Learned {
  const lots = [...new Set(jars.map(({ lot }) => lot))].filter((lot) => lot !== "").sort();
  const rows = jars.map((jar) => rowOf(jar, lots));
  const prior = [
    PRIOR.scale,
    PRIOR.solidsExponent,
    PRIOR.airExponent,
    ...lots.map(() => PRIOR.lot),
  ];
  const precision = prior.map((spread) => 1 / spread ** 2);
  const start = [
    usualLnYield(PUBLISHED_LAW),
    PUBLISHED_LAW.solidsExponent,
    PUBLISHED_LAW.airExponent,
  ];
  const centre = [...start, ...lots.map(() => 0)];
  const best = climb(centre, (at) => slopeOf(at, centre, precision, jars, rows));
  const [k, m, a] = best.at as [number, number, number];
  const variance = best.curvature.solve(Matrix.eye(centre.length));
  const deviation = (index: number) => Math.sqrt(variance.get(index, index));
  const unit = yieldPa(USUAL_SOLIDS_PERCENT, USUAL_AIR_FRACTION, {
    scalePa: 1,
    solidsExponent: m,
    airExponent: a,
  });
  return {
    law: { scalePa: Math.exp(k) / unit, solidsExponent: m, airExponent: a },
    spread: { scale: deviation(0), solids: deviation(1), air: deviation(2) },
    lots: new Map(lots.map((lot, at) => [lot, Math.exp(best.at[3 + at]!)])),
  };
}

function usualLnYield(law: FirmnessLaw): number {
  return Math.log(yieldPa(USUAL_SOLIDS_PERCENT, USUAL_AIR_FRACTION, law));
}

/** What a jar multiplies the constants by. */
function rowOf({ solidFatPercent, airFraction, lot }: Evidence, lots: readonly string[]): number[] {
  return [
    1,
    Math.log(solidFatPercent / USUAL_SOLIDS_PERCENT),
    Math.log((1 - airFraction) / (1 - USUAL_AIR_FRACTION)),
    ...lots.map((each) => (each === lot ? 1 : 0)),
  ];
}

interface Slope {
  readonly likelihood: number;
  readonly gradient: Matrix;
  readonly curvature: CholeskyDecomposition;
}

/** Log of the posterior at a point, its gradient, and its curvature turned positive. */
function slopeOf(
  at: readonly number[],
  centre: readonly number[],
  precision: readonly number[],
  jars: readonly Evidence[],
  rows: readonly number[][],
): Slope {
  const away = at.map((each, index) => each - centre[index]!);
  let likelihood = -away.reduce(
    (sum, each, index) => sum + (precision[index]! * each * each) / 2,
    0,
  );
  const gradient = away.map((each, index) => -precision[index]! * each);
  const curvature = precision.map((each, at) => precision.map((_, to) => (at === to ? each : 0)));
  for (const [index, row] of rows.entries()) {
    const lnYield = row.reduce((sum, each, column) => sum + each * at[column]!, 0);
    const told = tell(jars[index]!.reading, lnYield);
    likelihood += told.likelihood;
    for (const [column, x] of row.entries()) {
      gradient[column]! += told.slope * x;
      for (const [other, y] of row.entries())
        curvature[column]![other]! += told.curvature * (x * y);
    }
  }
  return {
    likelihood,
    gradient: Matrix.columnVector(gradient),
    curvature: new CholeskyDecomposition(new Matrix(curvature)),
  };
}

type Look = (at: readonly number[]) => Slope;

/** Newton's method to the top. */
function climb(start: readonly number[], look: Look) {
  let at = start;
  let here = look(at);
  for (let step = 0; step < NEWTON_STEPS; step++) {
    const way = here.curvature.solve(here.gradient).to1DArray();
    if (Math.max(...way.map(Math.abs)) < CLOSE_ENOUGH) break;
    const up = stepUp(at, way, here, look);
    if (!up) break;
    ({ at, here } = up);
  }
  return { at, curvature: here.curvature };
}

/** A step along the way, halved until it leads up; nothing when no step does, at the top itself. */
function stepUp(at: readonly number[], way: readonly number[], from: Slope, look: Look) {
  for (let length = 1; length > CLOSE_ENOUGH; length /= 2) {
    const next = at.map((each, index) => each + length * way[index]!);
    const there = look(next);
    if (there.likelihood >= from.likelihood) return { at: next, here: there };
  }
  return undefined;
}
