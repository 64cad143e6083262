/**
 * The ingredient list of a label: INCI names in descending order of mass, ties by name.
 *
 * Every market asks for descending order above 1 % (Reg. (EC) 1223/2009 Art. 19(1)(g); 21 CFR
 * 701.3); at 1 % or less any order is allowed, and keeping to mass there is allowed everywhere.
 * Shares decide, not weighed targets: rounding to the scale never turns two names round.
 * Ingredients with one INCI name (sunflower and high-oleic sunflower) stand once. The lists of
 * fragrance allergens and the rule for colourants are not part of this.
 */
import type { Blend } from "../blend.ts";
import { sayFamily } from "./caution-words.ts";

export interface LabelEntry {
  readonly inci: string;
  /** [hundredths of a percent] */
  readonly share: number;
  /** At 1 % or less the law leaves the order free. */
  readonly orderFree: boolean;
}

export interface LabelOrder {
  readonly entries: readonly LabelEntry[];
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
  const merged = new Map<string, { inci: string; share: number }>();
  for (const { ingredient, share } of blend.parts) {
    const inci = ingredient.inci.trim().replace(/\s+/g, " ");
    const key = inci.toLowerCase();
    const before = merged.get(key);
    merged.set(key, { inci: before?.inci ?? inci, share: (before?.share ?? 0) + share });
  }
  const entries = [...merged.values()]
    .sort((one, other) => other.share - one.share || compareNames(one.inci, other.inci))
    .map((entry) => ({ ...entry, orderFree: entry.share <= ONE_PERCENT }));
  return {
    entries,
    text: entries.map(({ inci }) => inci).join(", "),
    contains: allergenFamilies(blend).map(
      ({ family, names }) => `${sayFamily(family)}: ${names.join(", ")}`,
    ),
  };
}

/**
 * Allergen families of a blend with the names of the ingredients that bring them, by the words for
 * the family.
 */
export function allergenFamilies(
  blend: Blend,
): { readonly family: string; readonly names: readonly string[] }[] {
  const families = new Map<string, string[]>();
  for (const { ingredient } of blend.parts) {
    for (const family of ingredient.allergenFamilies) {
      families.set(family, [...(families.get(family) ?? []), ingredient.name]);
    }
  }
  return [...families]
    .sort(([one], [other]) => compareNames(sayFamily(one), sayFamily(other)))
    .map(([family, names]) => ({ family, names }));
}

/** The same order on every machine: no locale takes part. */
function compareNames(one: string, other: string): number {
  const [a, b] = [one.toLowerCase(), other.toLowerCase()];
  return a < b ? -1 : a > b ? 1 : 0;
}
