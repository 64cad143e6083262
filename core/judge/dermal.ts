/**
 * How much of what a blend brings may stay on skin.
 *
 * Three kinds of limit, each a sum over the whole blend: the most of one ingredient; the most of a substance, added up
 * from every ingredient that holds it at the upper end of its range; and oils that burn skin in the sun, whose parts of
 * their own limits must not come to more than one (IFRA's rule for phototoxic oils, quoted). All are linear in the
 * shares and reckoned in whole numbers, so that a limit is met or missed and never nearly so. The figures arrive with
 * the ingredients; they replace no safety assessment.
 */
import type { Blend, Part } from "../blend.ts";
import { type Finding, type FindingCode, finding } from "../finding.ts";
import type { Ingredient } from "../ingredient.ts";

/** The sum of weight times share must not exceed `most`; all whole numbers. */
export interface SkinLimit {
  readonly code: FindingCode;
  /** Ingredient, label name of a substance, or "blend". */
  readonly subject: string;
  /** By ingredient id; what is not named weighs nothing. */
  readonly weights: ReadonlyMap<string, number>;
  readonly most: number;
  /** Such a sum in percent of the jar; of their limits together for oils in the sun. */
  readonly percentOf: (sum: number) => number;
}

/** A share is a ten-thousandth and a held part a millionth: a percent of the jar is 10^8 of their product. */
export const HELD_UNITS_PER_PERCENT = 1e8;
const HELD_UNITS_PER_MILLIONTH = 1e4;

/** The limits that blends of these ingredients can come up against; none where nothing is limited. */
export function skinLimits(ingredients: readonly Ingredient[]): SkinLimit[] {
  if (!ingredients.some(({ aromatic, mostShare }) => aromatic ?? mostShare !== undefined))
    return [];
  return [...doseLimits(ingredients), ...substanceLimits(ingredients), ...sunLimit(ingredients)];
}

function doseLimits(ingredients: readonly Ingredient[]): SkinLimit[] {
  return ingredients.flatMap(({ id, mostShare }): SkinLimit[] => {
    if (mostShare === undefined) return [];
    const code = "judge.dermal.ingredient-above-most";
    const weights = new Map([[id, 1]]);
    return [{ code, subject: id, weights, most: mostShare, percentOf: (share) => share / 100 }];
  });
}

function substanceLimits(ingredients: readonly Ingredient[]): SkinLimit[] {
  const limits = new Map<string, { most: number; weights: Map<string, number> }>();
  for (const { id, aromatic } of ingredients) {
    for (const { name, high, most } of aromatic?.holds ?? []) {
      if (most === undefined) continue;
      const limit = limits.get(name) ?? { most, weights: new Map<string, number>() };
      limit.most = Math.min(limit.most, most);
      limit.weights.set(id, high);
      limits.set(name, limit);
    }
  }
  return [...limits].map(([subject, { most, weights }]) => ({
    ...{ code: "judge.dermal.substance-above-most", subject, weights },
    most: most * HELD_UNITS_PER_MILLIONTH,
    percentOf: (units: number) => units / HELD_UNITS_PER_PERCENT,
  }));
}

function sunLimit(ingredients: readonly Ingredient[]): SkinLimit[] {
  const oils = ingredients.flatMap(({ id, aromatic }) =>
    aromatic?.sunMostShare === undefined ? [] : [{ id, share: aromatic.sunMostShare }],
  );
  if (oils.length === 0) return [];
  const most = oils.reduce((common, { share }) => (common / divisor(common, share)) * share, 1);
  const weights = new Map(oils.map(({ id, share }) => [id, most / share]));
  const code = "judge.dermal.sun-above-most";
  // Up, so that what is over is never printed as the limit itself.
  const percentOf = (sum: number) => Math.ceil((10_000 * sum) / most) / 100;
  return [{ code, subject: "blend", weights, most, percentOf }];
}

function divisor(one: number, other: number): number {
  return other === 0 ? one : divisor(other, one % other);
}

/** What stands against a blend on skin, and what is not on record of an ingredient in it. */
export function dermalFindings({ parts }: Blend): Finding[] {
  const held = parts.filter(({ share }) => share > 0);
  const ingredients = held.map(({ ingredient }) => ingredient);
  return [
    ...ingredients.flatMap(untoldFindings),
    ...skinLimits(ingredients).flatMap((limit) => limitFindings(limit, held)),
  ];
}

function limitFindings(limit: SkinLimit, parts: readonly Part[]): Finding[] {
  const { code, subject, weights, most, percentOf } = limit;
  const used = parts.reduce(
    (sum, { ingredient, share }) => sum + share * (weights.get(ingredient.id) ?? 0),
    0,
  );
  if (used <= most) return [];
  return [finding(code, subject, { measured: percentOf(used), limit: percentOf(most), unit: "%" })];
}

/** What is not on record of a scented ingredient: no jar that holds it can be judged. */
export function untoldFindings({ id, aromatic, mostShare }: Ingredient): Finding[] {
  if (!aromatic) return [];
  return [
    ...(aromatic.holds ? [] : [finding("judge.fragrance.composition-missing", id)]),
    ...(aromatic.isMostUntold && mostShare === undefined
      ? [finding("judge.dermal.most-missing", id)]
      : []),
  ];
}
