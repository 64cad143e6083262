/**
 * A choice made with an earlier version of a product -> the nearest that today's version can hold.
 *
 * Every butter, and every place with its oil, keeps its share where it still stands, brought into today's bounds; what
 * is new takes the maker's own. It is not judged here.
 */
import { WHOLE } from "../blend.ts";
import { intoBounds } from "./into-bounds.ts";
import { type Choice, type Product, allowedAt } from "./product.ts";

export interface CarriedOver {
  readonly choice: Choice;
  /** Ingredients that the choice held and today's base has no place for; ids. */
  readonly lost: readonly string[];
  /** Whether any share or oil is another than it was. */
  readonly isChanged: boolean;
}

/**
 * Carry a choice over.
 * @param choice any shape that was once a choice
 * @returns nothing when its base is gone, or when the bounds do not let the shares add up
 */
export function carryOver(product: Product, choice: Choice): CarriedOver | undefined {
  const base = product.bases.find(({ id }) => id === choice.base);
  if (!base) return undefined;
  const oils = base.oils.map((place) => {
    const chosen = choice.oils.find((each) => each.place === place.place);
    const isOffered =
      chosen !== undefined && allowedAt(product, place.place).includes(chosen.ingredient);
    const ingredient = isOffered ? chosen.ingredient : place.ingredient;
    return { place: place.place, ingredient, share: chosen?.share ?? place.share };
  });
  const butters = base.butters.map((butter) => {
    const chosen = choice.butters.find(({ ingredient }) => ingredient === butter.ingredient);
    return { ingredient: butter.ingredient, share: chosen?.share ?? butter.share };
  });
  const shares = intoBounds(
    [...butters, ...oils].map(({ share }) => share),
    [...base.butters, ...base.oils],
    product.additives.reduce((left, { share }) => left - share, WHOLE),
  );
  if (!shares) return undefined;
  const carried: Choice = {
    base: base.id,
    butters: butters.map((each, at) => ({ ...each, share: shares[at]! })),
    oils: oils.map((each, at) => ({ ...each, share: shares[butters.length + at]! })),
  };
  const held = new Set([...carried.butters, ...carried.oils].map(({ ingredient }) => ingredient));
  const lost = [...choice.butters, ...choice.oils]
    .filter(({ ingredient, share }) => share > 0 && !held.has(ingredient))
    .map(({ ingredient }) => ingredient);
  return { choice: carried, lost: [...new Set(lost)], isChanged: !isSame(choice, carried) };
}

/** The same parts at the same shares, in whatever order they were listed. */
function isSame(one: Choice, other: Choice): boolean {
  const lines = ({ butters, oils }: Choice) =>
    [
      ...butters.map(({ ingredient, share }) => `${ingredient} ${share}`),
      ...oils.map(({ place, ingredient, share }) => `${place} ${ingredient} ${share}`),
    ]
      .sort()
      .join();
  return lines(one) === lines(other);
}
