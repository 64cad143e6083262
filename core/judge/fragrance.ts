/**
 * The fragrance allergens that the label of a leave-on jar must name: those above 0.001 % of it (Reg. (EC) 1223/2009,
 * Annex III, as amended by Reg. (EU) 2023/1545), added up over the blend.
 *
 * Exact in whole numbers. What an oil holds is a range from oil to oil; its upper end decides, which errs towards
 * naming. The sheet of the lot knows better. An oil that the law lists itself is named as well as what it holds.
 */
import type { Blend } from "../blend.ts";
import { HELD_UNITS_PER_PERCENT } from "./dermal.ts";

/** [% of a leave-on product]; named when strictly above. */
export const LEAVE_ON_PERCENT = 0.001;

export interface FragranceAllergen {
  /** As the law names it, which may be a group: "Citral" for geranial and neral together. */
  readonly name: string;
  /** In the jar, by the lower and upper ends of what is held [% by mass] */
  readonly lowPercent: number;
  readonly highPercent: number;
}

export interface FragranceSummary {
  /** Above the threshold, the most first, equal ones by name. */
  readonly named: readonly FragranceAllergen[];
  /** Ids of scented ingredients whose composition nobody has on record: what they bring cannot be judged. */
  readonly untold: readonly string[];
}

const WHOLE_MILLIONTHS = 1e6;

/** The fragrance allergens of a blend. */
export function fragranceOf({ parts }: Blend): FragranceSummary {
  const sums = new Map<string, { low: number; high: number }>();
  const add = (name: string, share: number, low: number, high: number) => {
    const sum = sums.get(name) ?? { low: 0, high: 0 };
    sums.set(name, { low: sum.low + share * low, high: sum.high + share * high });
  };
  for (const { ingredient, share } of parts) {
    const { listedAs, holds = [] } = ingredient.aromatic ?? {};
    if (listedAs) add(listedAs, share, WHOLE_MILLIONTHS, WHOLE_MILLIONTHS);
    for (const { name, low, high, isListed } of holds) if (isListed) add(name, share, low, high);
  }
  const named = [...sums]
    .filter(([, { high }]) => high > LEAVE_ON_PERCENT * HELD_UNITS_PER_PERCENT)
    .sort(([one, a], [other, b]) => b.high - a.high || (one < other ? -1 : 1))
    .map(([name, { low, high }]) => ({
      name,
      lowPercent: low / HELD_UNITS_PER_PERCENT,
      highPercent: high / HELD_UNITS_PER_PERCENT,
    }));
  const untold = parts
    .filter(({ ingredient: { aromatic }, share }) => aromatic && !aromatic.holds && share > 0)
    .map(({ ingredient }) => ingredient.id);
  return { named, untold };
}
