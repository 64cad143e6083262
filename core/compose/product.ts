/**
 * A product as the maker opens it to customers: bases to start from, oil places, bounds, jars and rules.
 *
 * A **base** is the maker's own blend. Its butters have bounds; its **places** are oil places where the customer may
 * put another of the product's allowed oils. Additives are the same in every jar.
 */
import type { Rules } from "../judge/verdict.ts";

/** Least and greatest share [hundredths of a percent]. Equal ends lock the share. */
export interface Bound {
  readonly least: number;
  readonly greatest: number;
}

export interface BaseButter extends Bound {
  readonly ingredient: string;
  /** The maker's own share, where the customer starts [hundredths of a percent] */
  readonly share: number;
}

export interface BasePlace extends Bound {
  /** Id of one of the product's places. */
  readonly place: string;
  readonly ingredient: string;
  readonly share: number;
}

export interface Base {
  readonly id: string;
  readonly name: string;
  /** One or two sentences for the customer. */
  readonly words: string;
  readonly butters: readonly BaseButter[];
  readonly oils: readonly BasePlace[];
}

export interface Place {
  readonly id: string;
  readonly name: string;
  /** Ingredient ids that may stand here. */
  readonly allowed: readonly string[];
}

export interface Additive {
  readonly ingredient: string;
  readonly share: number;
}

export interface Jar {
  readonly id: string;
  readonly name: string;
  /** Net weight sold [g] */
  readonly fillG: number;
}

/** How the maker knows how long a product lasts; nothing here works it out. */
export const MONTHS_FROM = ["kept-jars", "safety-assessment"] as const;

/** What the labels of a product say beside its blend. What is missing is said as it is for the whole shop. */
export interface LabelFacts {
  /** What it is for, by language (BCP 47). */
  readonly purpose?: Readonly<Partial<Record<string, string>>>;
  /** Precautions of this product, by language. */
  readonly precautions?: Readonly<Partial<Record<string, string>>>;
  /** How long a closed jar lasts after making, as the maker found it [months] */
  readonly shelfLifeMonths?: number;
  /** How long an opened jar lasts, as the maker found it [months] */
  readonly openMonths?: number;
  /** Missing while nobody has said it of this product. */
  readonly monthsFrom?: (typeof MONTHS_FROM)[number];
}

export interface Product {
  readonly id: string;
  readonly name: string;
  readonly words: string;
  readonly places: readonly Place[];
  readonly bases: readonly Base[];
  readonly additives: readonly Additive[];
  readonly jars: readonly Jar[];
  readonly quantityMost: number;
  /** Room temperature the firmness window is meant for [C] */
  readonly useCelsius: number;
  /** Air the maker usually whips in, volume fraction [-] */
  readonly airFraction: number;
  readonly rules: Rules;
  /** How far above the warmest parcel of the month a jar must keep its body [C]; no season when missing. */
  readonly parcelMarginCelsius?: number;
  /** For the maker's labels; an offer to customers leaves it out. */
  readonly label?: LabelFacts;
}

/** What the customer chose: everything a blend and an order need. */
export interface Choice {
  readonly base: string;
  readonly butters: readonly { readonly ingredient: string; readonly share: number }[];
  readonly oils: readonly {
    readonly place: string;
    readonly ingredient: string;
    readonly share: number;
  }[];
}

/** The choice a customer starts from: the maker's own base, untouched. */
export function startingChoice(base: Base): Choice {
  return {
    base: base.id,
    butters: base.butters.map(({ ingredient, share }) => ({ ingredient, share })),
    oils: base.oils.map(({ place, ingredient, share }) => ({ place, ingredient, share })),
  };
}

/** Ids of the oils that may stand in a place; none when the product has no such place. */
export function allowedAt({ places }: Pick<Product, "places">, place: string): readonly string[] {
  return places.find(({ id }) => id === place)?.allowed ?? [];
}

/** Ids of every ingredient a product may use, each once. */
export function ingredientsOf(product: Product): string[] {
  const ids = [
    ...product.bases.flatMap(({ butters, oils }) => [...butters, ...oils]),
    ...product.additives,
  ].map(({ ingredient }) => ingredient);
  return [...new Set([...ids, ...product.places.flatMap(({ allowed }) => allowed)])];
}
