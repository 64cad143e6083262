/**
 * Solid fat put right by what laboratories measured of the lots in it.
 *
 * A lot that brings a measured curve keeps the species of its composition, which say how it blends. What was measured
 * (straight between readings) less what those species give for the lot alone is added in proportion to the lot's
 * share of the fat, and fades to nothing over 10 C beyond the ends. The sum is held to 0 to 100 % and made
 * non-rising: half the least value met so far from the cold plus half the greatest still to come, which changes
 * nothing where it does not rise. Worked out on whole degrees and the measured temperatures, straight between. Own
 * choice throughout; a lot alone comes out as measured. Lots are met at the bench: the page's script leaves this file
 * out (`widget/bundle.mjs`).
 */
import { WHOLE } from "../blend.ts";
import type { Ingredient } from "../ingredient.ts";
import { equilibriumSolids } from "./equilibrium.ts";
import { type Crystals, type FatState, type Melt, meltOf } from "./melt.ts";

const FADES_OVER_C = 10;
/** A little beyond what is judged, because the band looks a degree to each side [C]. */
const GRID = { from: -12, to: 62 };

/**
 * Solid fat of a melt that holds a measured lot.
 * @returns percent by mass of the fat that is solid, 0 to 100
 */
export function measuredSolids(melt: Melt, state: FatState, celsius: number): number {
  const settled = along(tableOf(melt, "settled"), celsius);
  return state === "settled" ? settled : Math.min(settled, along(tableOf(melt, state), celsius));
}

type Points = readonly (readonly [celsius: number, value: number])[];

const tables = new WeakMap<Crystals, Points>();

function tableOf(melt: Melt, state: FatState): Points {
  let table = tables.get(melt[state]);
  if (!table) tables.set(melt[state], (table = measuredTable(melt, state)));
  return table;
}

function measuredTable(melt: Melt, state: FatState): Points {
  const lots = melt.parts.flatMap(({ ingredient, fraction }) => {
    const curve = curveOf(ingredient);
    return curve.length === 0 ? [] : [{ fraction, shift: shiftOf(ingredient, curve), curve }];
  });
  const celsius = new Set(lots.flatMap(({ curve }) => curve.map(([at]) => at)));
  for (let at = GRID.from; at <= GRID.to; at++) celsius.add(at);
  const grid = [...celsius].sort((one, other) => one - other);
  const raw = grid.map((at) => {
    let value = equilibriumSolids(melt, state, at);
    for (const { fraction, shift } of lots) value += fraction * shift(at);
    return Math.min(100, Math.max(0, value));
  });
  let least = 100;
  const fromCold = raw.map((value) => (least = Math.min(least, value)));
  let greatest = 0;
  const fromWarm = [...raw].reverse().map((value) => (greatest = Math.max(greatest, value)));
  return grid.map((at, i) => [at, (fromCold[i]! + fromWarm.at(-1 - i)!) / 2]);
}

function curveOf({ solidFatCurve = [] }: Ingredient): Points {
  return solidFatCurve
    .map(({ celsius, percent }): [number, number] => [celsius, percent])
    .sort(([one], [other]) => one - other);
}

/** Measured less reckoned, for the lot alone [points of solid fat]. */
function shiftOf(ingredient: Ingredient, curve: Points): (celsius: number) => number {
  const alone = meltOf({ parts: [{ ingredient, share: WHOLE }] })!;
  const [first] = curve[0]!;
  const [last] = curve.at(-1)!;
  return (celsius) => {
    const near = Math.min(last, Math.max(first, celsius));
    const shift = along(curve, near) - equilibriumSolids(alone, "settled", near);
    return shift * Math.max(0, 1 - Math.abs(celsius - near) / FADES_OVER_C);
  };
}

/** Straight between points, the end value beyond them. */
function along(points: Points, celsius: number): number {
  const next = points.findIndex(([at]) => at >= celsius);
  if (next <= 0) return points.at(next)![1]; // at(-1): beyond the last
  const [from, low] = points[next - 1]!;
  const [to, high] = points[next]!;
  return low + ((high - low) * (celsius - from)) / (to - from);
}
