/**
 * Everything a base lets a customer choose, as one space: an oil for every place, and shares inside the bounds.
 *
 * The room is measured in it like this: every combination of oils counts the same, and within a combination every set
 * of whole shares that keeps to the bounds and makes up the whole counts the same.
 */
import { WHOLE } from "../../blend.ts";
import {
  type Base,
  type Bound,
  type Choice,
  type Product,
  allowedAt,
} from "../../compose/product.ts";
import type { Ingredient } from "../../ingredient.ts";
import { type Lattice, latticeOf } from "./lattice.ts";

/** A butter of the base or one of its oil places. */
export interface Slot extends Bound {
  readonly kind: "butter" | "place";
  /** Ingredient id of the butter, or id of the place. */
  readonly subject: string;
  /** Numbers of the ingredients that may stand here, in `Space.ingredients`; one for a butter. */
  readonly options: readonly number[];
  /** The maker's own. */
  readonly share: number;
  readonly own: number;
}

export interface Space {
  readonly base: Base;
  readonly slots: readonly Slot[];
  /** Every ingredient that may be in the jar, each once. */
  readonly ingredients: readonly Ingredient[];
  /** The same in every jar: number of the ingredient, and share. */
  readonly additives: readonly { readonly ingredient: number; readonly share: number }[];
  /** What the slots share out [hundredths of a percent] */
  readonly total: number;
  readonly combinations: number;
  readonly lattice: Lattice;
}

/** One choice: an option and a share for every slot. Written over again and again; copy what is to be kept. */
export interface Point {
  /** Which of the slot's options. */
  readonly options: Int32Array;
  readonly shares: Int32Array;
}

/**
 * The space of a base.
 * @param ingredientOf looks an ingredient up by id; one that it does not know can never be judged
 */
export function spaceOf(
  product: Product,
  base: Base,
  ingredientOf: (id: string) => Ingredient | undefined,
): Space {
  const ingredients: Ingredient[] = [];
  const number = new Map<string, number>();
  const numberOf = (id: string): number => {
    const known = number.get(id);
    if (known !== undefined) return known;
    number.set(id, ingredients.length);
    return ingredients.push(ingredientOf(id) ?? unknownIngredient(id)) - 1;
  };
  const butters = base.butters.map(({ ingredient, share, least, greatest }): Slot => ({
    ...{ kind: "butter", subject: ingredient, share, least, greatest, own: 0 },
    options: [numberOf(ingredient)],
  }));
  const places = base.oils.map(({ place, ingredient, share, least, greatest }): Slot => {
    const allowed = allowedAt(product, place);
    const own = Math.max(0, allowed.indexOf(ingredient));
    const options = allowed.map(numberOf);
    return { kind: "place", subject: place, share, least, greatest, own, options };
  });
  const additives = product.additives.map(({ ingredient, share }) => ({
    ingredient: numberOf(ingredient),
    share,
  }));
  const slots = [...butters, ...places];
  const total = additives.reduce((rest, { share }) => rest - share, WHOLE);
  const combinations = slots.reduce((count, { options }) => count * options.length, 1);
  const lattice = latticeOf(slots, total);
  return { base, slots, ingredients, additives, total, combinations, lattice };
}

/** The same space with other bounds, in the order of its slots. */
export function withBounds(space: Space, bounds: readonly Bound[]): Space {
  const slots = space.slots.map((slot, at) => ({ ...slot, ...bounds[at]! }));
  return { ...space, slots, lattice: latticeOf(slots, space.total) };
}

/** A point of the lattice with every share and option still to be said. */
export function pointIn({ slots }: Space): Point {
  return { options: new Int32Array(slots.length), shares: new Int32Array(slots.length) };
}

/** The same point again, free to be moved. */
export function copyOf({ options, shares }: Point): Point {
  return { options: options.slice(), shares: shares.slice() };
}

/** The oils of a combination, counted from 0, written into a point. */
export function combine({ slots }: Space, combination: number, { options }: Point): void {
  let rest = combination;
  for (let at = slots.length - 1; at >= 0; at--) {
    const count = slots[at]!.options.length;
    options[at] = rest % count;
    rest = Math.floor(rest / count);
  }
}

/** The point as a customer's choice. */
export function choiceOf({ base, slots, ingredients }: Space, point: Point): Choice {
  const rows = slots.map(({ kind, subject, options }, at) => ({
    ...{ kind, subject, share: point.shares[at]! },
    ingredient: ingredients[options[point.options[at]!]!]!.id,
  }));
  return {
    base: base.id,
    butters: rows
      .filter(({ kind }) => kind === "butter")
      .map(({ ingredient, share }) => ({ ingredient, share })),
    oils: rows
      .filter(({ kind }) => kind === "place")
      .map(({ subject: place, ingredient, share }) => ({ place, ingredient, share })),
  };
}

/** The maker's own blend, where it keeps to its own bounds and makes the whole. */
export function ownPoint({ slots, total }: Space): Point | undefined {
  const isWithin = slots.every(({ share, least, greatest }) => share >= least && share <= greatest);
  const isWhole = slots.reduce((sum, { share }) => sum + share, 0) === total;
  if (!isWithin || !isWhole) return undefined;
  return {
    options: Int32Array.from(slots, ({ own }) => own),
    shares: Int32Array.from(slots, ({ share }) => share),
  };
}

/** A choice as a point; the inverse of `choiceOf`. */
export function pointOf({ slots, ingredients }: Space, choice: Choice): Point {
  const rows = slots.map(({ kind, subject, options }) => {
    const row =
      kind === "butter"
        ? choice.butters.find(({ ingredient }) => ingredient === subject)
        : choice.oils.find(({ place }) => place === subject);
    const option = options.findIndex((at) => ingredients[at]!.id === row?.ingredient);
    if (!row || option < 0) throw new RangeError(`the choice has nothing for ${subject}`);
    return { option, share: row.share };
  });
  return {
    options: Int32Array.from(rows, ({ option }) => option),
    shares: Int32Array.from(rows, ({ share }) => share),
  };
}

/** A point moved into tighter bounds: what a share must give up goes where there is room. */
export function pressInto({ slots, total }: Space, { options, shares }: Point): Point | undefined {
  const pressed = shares.map((share, at) =>
    Math.min(slots[at]!.greatest, Math.max(slots[at]!.least, share)),
  );
  let rest = pressed.reduce((left, share) => left - share, total);
  for (const [at, { least, greatest }] of slots.entries()) {
    const move = Math.max(least - pressed[at]!, Math.min(greatest - pressed[at]!, rest));
    pressed[at]! += move;
    rest -= move;
  }
  return rest === 0 ? { options: options.slice(), shares: pressed } : undefined;
}

function unknownIngredient(id: string): Ingredient {
  return {
    ...{ id, name: id, inci: id, kind: "oil", allergenFamilies: [] },
    ...{ composition: { kind: "unknown" }, poreRating: { rated: false } },
  };
}
