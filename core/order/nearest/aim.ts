/**
 * What may move and what it costs: the shares of one set of ingredients, each inside its bound, with the shares that
 * are wanted.
 */
import { type Part, WHOLE } from "../../blend.ts";
import type { Bound } from "../../compose/product.ts";
import type { Ingredient } from "../../ingredient.ts";

export interface Movable extends Bound {
  readonly ingredient: Ingredient;
  /** Where it should be; each hundredth outside costs one. A range where several shares are as good. */
  readonly wanted: Bound;
}

export interface Aim {
  /** Each ingredient once. */
  readonly movable: readonly Movable[];
  /** What stays as it is. */
  readonly fixed: readonly Part[];
}

/** What the movable parts have to sum to [hundredths of a percent] */
export function sumOf({ fixed }: Aim): number {
  return fixed.reduce((left, { share }) => left - share, WHOLE);
}

/** The parts with shares in the order of the movable ones; empty ones left out. */
export function partsWith({ movable, fixed }: Aim, shares: readonly number[]): Part[] {
  const moved = movable.map(({ ingredient }, at) => ({ ingredient, share: shares[at]! }));
  return [...moved, ...fixed].filter(({ share }) => share > 0);
}

/** Cost of shares: how far they lie from the wanted ones, all told [hundredths of a percent] */
export function costOf({ movable }: Aim, shares: readonly number[]): number {
  return movable.reduce((sum, { wanted }, at) => {
    const share = shares[at]!;
    return sum + Math.max(0, wanted.least - share, share - wanted.greatest);
  }, 0);
}

/**
 * The cheapest shares that keep the bounds and the sum, no rule looked at.
 * @returns nothing when no shares inside the bounds have the sum
 */
export function insideBounds(aim: Aim): number[] | undefined {
  const shares = aim.movable.map(({ least, greatest, wanted }) =>
    Math.min(greatest, Math.max(least, wanted.least)),
  );
  return level(aim, shares);
}

/**
 * Shares brought to the sum: what is missing goes to the first parts that have room for it, first of all within what
 * is wanted.
 */
export function level(aim: Aim, shares: number[]): number[] | undefined {
  let missing = shares.reduce((left, share) => left - share, sumOf(aim));
  for (const isWanted of [true, false]) {
    for (const [at, { least, greatest, wanted }] of aim.movable.entries()) {
      const top = isWanted ? Math.min(greatest, wanted.greatest) : greatest;
      const foot = isWanted ? Math.max(least, wanted.least) : least;
      const step =
        missing > 0
          ? Math.min(missing, Math.max(0, top - shares[at]!))
          : -Math.min(-missing, Math.max(0, shares[at]! - foot));
      shares[at]! += step;
      missing -= step;
    }
  }
  return missing === 0 ? shares : undefined;
}

/** Shares filled up in an order of preference, the first as far as its bound lets it. */
export function filledBy(aim: Aim, preference: (ingredient: Ingredient) => number): number[] {
  const shares = aim.movable.map(({ least }) => least);
  const order = [...aim.movable.keys()].sort(
    (one, other) =>
      preference(aim.movable[other]!.ingredient) - preference(aim.movable[one]!.ingredient),
  );
  let missing = shares.reduce((left, share) => left - share, sumOf(aim));
  for (const at of order) {
    const step = Math.min(missing, aim.movable[at]!.greatest - shares[at]!);
    shares[at]! += step;
    missing -= step;
  }
  return shares;
}

/** Whole hundredths of a percent with the same sum, inside the same bounds: the largest remainders go up. */
export function inHundredths(aim: Aim, shares: readonly number[]): number[] {
  const near = (share: number) =>
    Math.abs(share - Math.round(share)) < 1e-6 ? Math.round(share) : Math.floor(share);
  const whole = shares.map(near);
  const order = [...shares.keys()].sort(
    (one, other) => shares[other]! - whole[other]! - (shares[one]! - whole[one]!),
  );
  let left = whole.reduce((sum, share) => sum - share, sumOf(aim));
  for (const at of order) {
    if (left <= 0) break;
    whole[at]! += 1;
    left -= 1;
  }
  return whole;
}
