/**
 * What a blend brings that a customer must be able to read before paying: its label list, fragrance allergens, allergen
 * families, and how to try and keep it.
 */
import type { Blend } from "#core/blend.ts";
import { labelOrder } from "#core/make/label-order.ts";
import { type PoreRules, ratePores } from "#core/judge/pore-rating.ts";
import { PORE_WORDS } from "#core/judge/pore-words.ts";
import { sayCaution } from "#core/make/caution-words.ts";
import { numberFormat } from "../documents/formats.ts";

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
  readonly poreWords: readonly string[];
  readonly cautions: readonly string[];
}

/**
 * @param rules of the product, which say what pore ratings count
 * @param locale BCP 47 tag figures are written for
 */
export function disclosureOf(blend: Blend, rules: PoreRules, locale: string): Disclosure {
  const { text, allergens, untold, contains } = labelOrder(blend);
  const figure = numberFormat(locale, { maximumSignificantDigits: 2 });
  const isScented = blend.parts.some(({ ingredient }) => ingredient.aromatic);
  const { highest } = ratePores(blend, rules);
  const nameOf = (id: string) =>
    blend.parts.find(({ ingredient }) => ingredient.id === id)?.ingredient.name ?? id;
  return {
    ...{ inci: text, families: contains, isScented },
    fragrance: allergens.map(({ name, highPercent }) => ({
      name,
      most: `${figure.format(highPercent)}\u00a0%`,
    })),
    untold: blend.parts
      .filter(({ ingredient }) => untold.includes(ingredient.id))
      .map(({ ingredient }) => ingredient.name),
    pores: highest && {
      value: numberFormat(locale, { maximumFractionDigits: 1 }).format(highest.value),
      name: nameOf(highest.ingredient),
    },
    poreWords: PORE_WORDS,
    cautions: [
      sayCaution("customer.patch-test", {}),
      sayCaution("customer.keep-dry", {}),
      sayCaution("customer.slip", {}),
      ...(isScented ? [sayCaution("customer.scented", {})] : []),
    ],
  };
}
