/**
 * What a blend brings that a customer must be able to read before paying: its label list, fragrance allergens, allergen
 * families, and how to try and keep it.
 */
import type { Blend } from "#core/blend.ts";
import { allergenFamilies, inciOrder } from "#core/make/label-order.ts";
import { type PoreRules, ratePores } from "#core/judge/pore-rating.ts";
import { nameFamily } from "#core/words/words.ts";
import { nameIn } from "#data/names.ts";
import { numberFormat } from "../documents/formats.ts";
import { sayIn, speechIn } from "../words/speak.ts";

export interface Disclosure {
  readonly inci: string;
  readonly families: readonly string[];
  /** With the most that the jar may hold of each, such as "0.14 %". */
  readonly fragrance: readonly { readonly name: string; readonly most: string }[];
  /** Names of scented ingredients whose composition is not on record. */
  readonly untold: readonly string[];
  readonly isScented: boolean;
  /** The highest pore rating that counts and what brings it; nothing when none is published. */
  readonly pores: { readonly value: string; readonly name: string } | undefined;
  readonly cautions: readonly string[];
}

/**
 * @param rules of the product, which say what pore ratings count
 * @param locale BCP 47 tag figures are written for
 */
export function disclosureOf(blend: Blend, rules: PoreRules, locale: string): Disclosure {
  const { text, allergens, untold } = inciOrder(blend);
  const speech = speechIn(locale);
  const figure = numberFormat(locale, { maximumSignificantDigits: 2 });
  const isScented = blend.parts.some(({ ingredient }) => ingredient.aromatic);
  const { highest } = ratePores(blend, rules);
  const namesOf = (ids: readonly string[]) =>
    blend.parts
      .filter(({ ingredient }) => ids.includes(ingredient.id))
      .map(({ ingredient }) => nameIn(locale, ingredient));
  const families = allergenFamilies(blend).map(({ family, ingredients }) => {
    const names = ingredients.map((each) => nameIn(locale, each));
    const fact = { term: nameFamily(family, speech), value: names.join(", ") };
    return sayIn(locale, "layout.fact", fact);
  });
  return {
    ...{ inci: text, families, isScented },
    fragrance: allergens.map(({ name, highPercent }) => ({
      name,
      most: `${figure.format(highPercent)}\u00a0%`,
    })),
    untold: namesOf(untold),
    pores: highest && {
      value: numberFormat(locale, { maximumFractionDigits: 1 }).format(highest.value),
      name: namesOf([highest.ingredient])[0] ?? highest.ingredient,
    },
    cautions: ["patch-test", "keep-dry", "slip", ...(isScented ? ["scented"] : [])].map((caution) =>
      sayIn(locale, `caution.${caution}`),
    ),
  };
}
