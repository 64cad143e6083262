/**
 * Shares by ingredient -> shares by butter and place, each inside its own bound.
 */
import type { Base, Choice, Product } from "../../compose/product.ts";
import type { Found } from "./search.ts";

/** The choice that a filling and its shares make; an oil in two places stays where it was as far as it can. */
export function choiceOf(product: Product, base: Base, before: Choice, found: Found): Choice {
  const { ingredients, aim } = found.filling;
  const left = new Map(
    aim.movable.map(({ ingredient }, at) => [ingredient.id, found.shares[at]!] as const),
  );
  for (const { ingredient, share } of product.additives) {
    const same = left.get(ingredient);
    if (same !== undefined) left.set(ingredient, same - share);
  }
  const bounds = [...base.butters, ...base.oils];
  const shares = bounds.map(({ least }) => least);
  for (const [at, { id }] of ingredients.entries()) left.set(id, left.get(id)! - shares[at]!);
  const take = (at: number, most: number) => {
    const id = ingredients[at]!.id;
    const step = Math.max(0, Math.min(left.get(id)!, most - shares[at]!));
    shares[at]! += step;
    left.set(id, left.get(id)! - step);
  };
  const was = [
    ...base.butters.map(({ ingredient: id }) =>
      before.butters.find((each) => each.ingredient === id),
    ),
    ...base.oils.map(({ place: id }) => before.oils.find((each) => each.place === id)),
  ];
  for (const [at, { greatest }] of bounds.entries()) {
    if (was[at]?.ingredient === ingredients[at]!.id) take(at, Math.min(greatest, was[at].share));
  }
  for (const [at, { greatest }] of bounds.entries()) take(at, greatest);
  const butters = base.butters.map(({ ingredient }, at) => ({ ingredient, share: shares[at]! }));
  const oils = base.oils.map(({ place }, at) => ({
    place,
    ingredient: ingredients[base.butters.length + at]!.id,
    share: shares[base.butters.length + at]!,
  }));
  return { base: base.id, butters, oils };
}
