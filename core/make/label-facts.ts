/**
 * What a product says for its labels, over the versions of it: what holds for a jar, and what is missing.
 */
import type { LabelFacts } from "../compose/product.ts";
import { type LabelGap, labelGap } from "./label-gaps.ts";
import { PARTICULAR_NAMES } from "./label-market.ts";
import type { LabelWords } from "./label-words.ts";

/** Months that hold for every product without its own. */
export type ShopMonths = Pick<LabelFacts, "shelfLifeMonths" | "openMonths">;

export interface FactsInForce extends LabelFacts {
  /** Which of the months the product says itself; the others are the shop's, or nobody said any. */
  readonly ownMonths: readonly (keyof ShopMonths)[];
}

/**
 * What holds for a jar that was ordered from the first of some versions. A maker learns after an order was taken, so
 * the words are those of the last version, by which what was missing can be mended too. A date must never grow by a
 * later blend's longer life, so the months are the fewest that any of the versions says.
 * @param versions from the one ordered to the last published, at least one; what a version does not say, because it
 *   is older than such figures or because the maker left it empty, is the shop's
 */
export function factsInForce(versions: readonly LabelFacts[], ofShop: ShopMonths): FactsInForce {
  const { purpose, precautions } = versions.at(-1) ?? {};
  const own = versions.filter(hasMonths);
  const monthsFrom = own.flatMap((each) => each.monthsFrom ?? []).at(-1);
  const fewest = (of: keyof ShopMonths) => {
    const said = versions.flatMap((each) => each[of] ?? ofShop[of] ?? []);
    return said.length === 0 ? undefined : Math.min(...said);
  };
  const [shelfLifeMonths, openMonths] = [fewest("shelfLifeMonths"), fewest("openMonths")];
  return {
    ...(purpose ? { purpose } : {}),
    ...(precautions ? { precautions } : {}),
    ...(shelfLifeMonths === undefined ? {} : { shelfLifeMonths }),
    ...(openMonths === undefined ? {} : { openMonths }),
    ...(monthsFrom ? { monthsFrom } : {}),
    ownMonths: (["shelfLifeMonths", "openMonths"] as const).filter((of) => {
      const counts = own.flatMap((each) => each[of] ?? []);
      return counts.length > 0 && Math.min(...counts) === fewest(of);
    }),
  };
}

/** Whether a product has months of its own. */
export function hasMonths({ shelfLifeMonths, openMonths }: ShopMonths): boolean {
  return shelfLifeMonths !== undefined || openMonths !== undefined;
}

/** What it is for in one language: the product's own words, or the usual ones where it has none. */
export function purposeIn(words: LabelWords, facts: LabelFacts | undefined): string {
  return facts?.purpose?.[words.language] ?? words.purpose;
}

/** What a product leaves open for labels in these languages. @param name of the product */
export function openIn(
  facts: FactsInForce,
  languages: readonly Pick<LabelWords, "language" | "languageName">[],
  name: string,
): LabelGap[] {
  const untold = (["purpose", "precautions"] as const).flatMap((id) => {
    const said = facts[id];
    const lacking = said ? languages.filter(({ language }) => said[language] === undefined) : [];
    if (lacking.length === 0) return [];
    const names = lacking.map(({ languageName }) => languageName).join(", ");
    const figures = { subject: name, particular: PARTICULAR_NAMES[id], languages: names };
    return [labelGap("label.words.untold", figures)];
  });
  const isUnproven = facts.ownMonths.length > 0 && facts.monthsFrom === undefined;
  return isUnproven ? [...untold, labelGap("label.months.unproven", { subject: name })] : untold;
}
