/**
 * The orderable room of a product: how much of what its bounds allow a customer could order, what cuts it, what can
 * never be chosen and where its ends lie. For the maker, before publishing.
 */
import type { Product } from "../../compose/product.ts";
import type { Ingredient } from "../../ingredient.ts";
import type { FirmnessLaw } from "../../judge/firmness.ts";
import type { Rules } from "../../judge/verdict.ts";
import { type JudgingGround, groundOf } from "../rule-check.ts";
import { type BaseRoom, baseWork, plannedFor } from "./base-room.ts";
import type { Tariffs } from "./prices.ts";
import { type Slices, sliced } from "./stepper.ts";
import { spaceOf } from "./space.ts";

/** What the choices are judged on beside the product itself. */
export interface RoomGround {
  readonly ingredientOf: (id: string) => Ingredient | undefined;
  /** In place of the product's own, for a season say. */
  readonly rules?: Rules;
  readonly law?: FirmnessLaw;
}

export interface RoomOptions {
  /** By jar id; without them prices are not told and price limits not kept. */
  readonly tariffs?: Tariffs;
  /** The same seed gives the same report; 1 when not said. */
  readonly seed?: number;
  /** Blends drawn for each base, at least; 9000 when not said. */
  readonly draws?: number;
}

export interface RoomReport {
  readonly seed: number;
  readonly bases: readonly BaseRoom[];
  /** Every base has a choice that can be ordered. */
  readonly isOpen: boolean;
}

/** Draws for each base: a half-width of 1 % at most in the share that passes. */
const USUAL_DRAWS = 9000;

/**
 * Survey a product's room.
 * @param ground ingredients, and rules or law in place of the usual ones
 * @param options tariffs by jar; seed; draws for each base
 * @returns the work, to be driven in slices
 */
export function openRoom(
  product: Product,
  ground: RoomGround,
  options: RoomOptions = {},
): Slices<RoomReport> {
  const { seed = 1, draws = USUAL_DRAWS, tariffs } = options;
  const judging = judgingGround(product, ground);
  const spaces = product.bases.map((base) => spaceOf(product, base, ground.ingredientOf));
  function* work(): Generator<undefined, RoomReport> {
    const bases: BaseRoom[] = [];
    for (const [at, space] of spaces.entries()) {
      // A seed of its own for each base, so that a base added after it changes nothing.
      const baseSeed = Math.imul(seed, 0x9e3779b1) ^ at;
      bases.push(
        yield* baseWork({ product, space, ground: judging, tariffs, draws, seed: baseSeed }),
      );
    }
    return { seed, bases, isOpen: bases.every(({ isOpen }) => isOpen) };
  }
  const planned = spaces.reduce((sum, space) => sum + plannedFor(space, draws), 0);
  return sliced(work(), planned);
}

/** What the product's choices are judged on. */
export function judgingGround(product: Product, { rules, law }: RoomGround): JudgingGround {
  return groundOf({ ...product, rules: rules ?? product.rules }, law);
}
