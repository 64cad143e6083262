/**
 * The ingredient list of a label: INCI names in descending order of mass, ties by name, then the fragrance allergens
 * that must be named.
 *
 * Every market asks for descending order above 1 % (Reg. (EC) 1223/2009 Art. 19(1)(g); 21 CFR 701.3); at 1 % or less
 * any order is allowed, and keeping to mass there is allowed everywhere. Shares decide, not weighed targets: rounding
 * to the scale never turns two names round. Ingredients with one INCI name (sunflower and high-oleic sunflower) stand
 * once, and so does an oil that the law lists by its INCI name. Colourants stand behind the others, whatever their
 * mass; they are told by their Colour Index number, which is their INCI name in the EU.
 */
import type { Blend } from "../blend.ts";
import type { Ingredient } from "../ingredient.ts";
import { type FragranceAllergen, fragranceOf } from "../judge/fragrance.ts";
import { nameFamily } from "../words/words.ts";

export interface LabelEntry {
  readonly inci: string;
  /** [hundredths of a percent] */
  readonly share: number;
  /** At 1 % or less, and for colourants, the law leaves the order free. */
  readonly orderFree: boolean;
}

export interface LabelOrder {
  readonly entries: readonly LabelEntry[];
  /** Fragrance allergens above the threshold that are not an entry already, the most first. */
  readonly allergens: readonly FragranceAllergen[];
  /** Ids of scented ingredients without a composition on record: the list of allergens may lack some. */
  readonly untold: readonly string[];
  /** The list as it is printed, names separated by commas. */
  readonly text: string;
  /**
   * Allergen families with the ingredients that bring them, such as "oil from tree nuts: Sweet
   * almond oil".
   */
  readonly contains: readonly string[];
}

const ONE_PERCENT = 100;

/** The ingredient list of a blend. */
export function labelOrder(blend: Blend): LabelOrder {
  return {
    ...inciOrder(blend),
    contains: allergenFamilies(blend).map(
      ({ family, ingredients }) =>
        `${nameFamily(family)}: ${ingredients.map(({ name }) => name).join(", ")}`,
    ),
  };
}

/** The list without the allergen families. */
export function inciOrder(blend: Blend): Omit<LabelOrder, "contains"> {
  const merged = new Map<string, { inci: string; share: number }>();
  for (const { ingredient, share } of blend.parts) {
    if (share === 0) continue;
    const inci = ingredient.inci.trim().replace(/\s+/g, " ");
    const key = inci.toLowerCase();
    const before = merged.get(key);
    merged.set(key, { inci: before?.inci ?? inci, share: (before?.share ?? 0) + share });
  }
  const entries = [...merged.values()]
    .sort(
      (one, other) =>
        Number(isColourant(one.inci)) - Number(isColourant(other.inci)) ||
        other.share - one.share ||
        compareNames(one.inci, other.inci),
    )
    .map((entry) => ({
      ...entry,
      orderFree: entry.share <= ONE_PERCENT || isColourant(entry.inci),
    }));
  const { named, untold } = fragranceOf(blend);
  const allergens = named.filter(({ name }) => !merged.has(name.toLowerCase()));
  const names = [...entries.map(({ inci }) => inci), ...allergens.map(({ name }) => name)];
  return { entries, allergens, untold, text: names.join(", ") };
}

/**
 * Allergen families of a blend with the ingredients that bring them, by the words for the family.
 */
export function allergenFamilies(
  blend: Blend,
): { readonly family: string; readonly ingredients: readonly Ingredient[] }[] {
  const families = new Map<string, Ingredient[]>();
  for (const { ingredient } of blend.parts) {
    for (const family of ingredient.allergenFamilies) {
      families.set(family, [...(families.get(family) ?? []), ingredient]);
    }
  }
  return [...families]
    .sort(([one], [other]) => compareNames(nameFamily(one), nameFamily(other)))
    .map(([family, ingredients]) => ({ family, ingredients }));
}

/** "CI 77491" */
function isColourant(inci: string): boolean {
  return /^CI \d{5}/.test(inci);
}

/** The same order on every machine: no locale takes part. */
function compareNames(one: string, other: string): number {
  const [a, b] = [one.toLowerCase(), other.toLowerCase()];
  return a < b ? -1 : a > b ? 1 : 0;
}
