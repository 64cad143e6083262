/**
 * What a customer may wish of a jar, and the same wishes one by one, so that one can be let go.
 *
 * Hard wishes are kept or the blend is not offered: no oil, no family, unscented, a rating, a price, a warm parcel.
 * Feel and oil phase are wished relative to the customer's own blend, by one clear step; half a step is the least that
 * counts as kept.
 */

export interface Wishes {
  /** How it feels at the room temperature of use. */
  readonly feel?: "softer" | "firmer";
  /** How thick the liquid part is on skin. */
  readonly oilPhase?: "thinner" | "richer";
  /** Keeps its body up to here, a hot parcel say, as strictly as the maker's own rule [C] */
  readonly holdsToCelsius?: number;
  /** Highest pore rating, 0 to 5; what is unrated goes by the maker's rule. */
  readonly poreRatingMost?: number;
  /** Ingredient ids. */
  readonly without?: readonly string[];
  /** Allergen families as the ingredients name them, such as "tree-nut". */
  readonly withoutFamilies?: readonly string[];
  readonly unscented?: true;
  /** Price of one jar as the customer pays it [minor units] */
  readonly priceMostMinor?: number;
}

export type Wish =
  | { readonly wish: "feel"; readonly way: "softer" | "firmer" }
  | { readonly wish: "oil-phase"; readonly way: "thinner" | "richer" }
  | { readonly wish: "holds-to"; readonly celsius: number }
  | { readonly wish: "pore-rating"; readonly most: number }
  | { readonly wish: "without"; readonly ingredient: string }
  | { readonly wish: "without-family"; readonly family: string }
  | { readonly wish: "unscented" }
  | { readonly wish: "price"; readonly mostMinor: number };

/** The wishes one by one, each once. */
export function oneByOne(wishes: Wishes): Wish[] {
  const { feel, oilPhase, holdsToCelsius, poreRatingMost, unscented, priceMostMinor } = wishes;
  const list: Wish[] = [];
  if (feel) list.push({ wish: "feel", way: feel });
  if (oilPhase) list.push({ wish: "oil-phase", way: oilPhase });
  if (holdsToCelsius !== undefined) list.push({ wish: "holds-to", celsius: holdsToCelsius });
  if (poreRatingMost !== undefined) list.push({ wish: "pore-rating", most: poreRatingMost });
  for (const ingredient of new Set(wishes.without)) list.push({ wish: "without", ingredient });
  for (const family of new Set(wishes.withoutFamilies)) {
    list.push({ wish: "without-family", family });
  }
  if (unscented) list.push({ wish: "unscented" });
  if (priceMostMinor !== undefined) list.push({ wish: "price", mostMinor: priceMostMinor });
  return list;
}

/** The wishes with one of `oneByOne` let go. */
export function allBut(wishes: Wishes, { wish, ...detail }: Wish): Wishes {
  const { feel, oilPhase, holdsToCelsius, poreRatingMost, unscented, priceMostMinor } = wishes;
  const gone = Object.values(detail)[0];
  const kept = (list: readonly string[] | undefined, kind: Wish["wish"]) =>
    list?.filter((each) => wish !== kind || each !== gone) ?? [];
  return {
    ...(feel && wish !== "feel" ? { feel } : {}),
    ...(oilPhase && wish !== "oil-phase" ? { oilPhase } : {}),
    ...(holdsToCelsius !== undefined && wish !== "holds-to" ? { holdsToCelsius } : {}),
    ...(poreRatingMost !== undefined && wish !== "pore-rating" ? { poreRatingMost } : {}),
    without: kept(wishes.without, "without"),
    withoutFamilies: kept(wishes.withoutFamilies, "without-family"),
    ...(unscented && wish !== "unscented" ? { unscented } : {}),
    ...(priceMostMinor !== undefined && wish !== "price" ? { priceMostMinor } : {}),
  };
}
