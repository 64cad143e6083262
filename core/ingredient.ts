/**
 * What the core must know of an ingredient. The figures arrive from outside; their sources live beside them in
 * `data`.
 */
import type { FatFamily } from "./judge/distribution.ts";

export type IngredientKind = "butter" | "oil" | "wax" | "powder" | "additive";

/** What an ingredient is made of, as far as its solid fat goes. */
export type Composition =
  /**
   * Fatty acids by lipid code [percent by mass]; species follow from the family's sn-2 rule or from `sn2` [mole
   * percent].
   */
  | {
      readonly kind: "fatty-acids";
      readonly percent: Readonly<Record<string, number>>;
      readonly family?: FatFamily;
      readonly sn2?: Readonly<Record<string, number>>;
      /** Sterols, triterpene esters: part of the liquid at every temperature [percent by mass]. */
      readonly unsaponifiablePercent?: number;
    }
  /**
   * Measured triacylglycerols by name [percent by mass], brought to 100; with its fatty acids for iodine and
   * saponification value.
   */
  | {
      readonly kind: "triacylglycerols";
      readonly percent: Readonly<Record<string, number>>;
      readonly unsaponifiablePercent?: number;
    }
  /** A liquid that is no triacylglycerol (squalane, wax esters) and does not crystallise between -10 and 60 C. */
  | { readonly kind: "inert-liquid"; readonly molarMass: number }
  /**
   * A wax, or another crystal that is no triacylglycerol: one species that crystallises by itself, with the melting
   * point and heat that its solubility in fat follows. `structure` says how many points of fat solids one point of
   * its solids is worth to the finger, 1 or more.
   */
  | {
      readonly kind: "wax";
      /** [g/mol] */
      readonly molarMass: number;
      readonly meltingCelsius: number;
      readonly fusionKJPerMol: number;
      readonly structure: number;
    }
  /** Grains that neither melt nor dissolve (starches): left out of the fat. */
  | { readonly kind: "undissolved" }
  /** Not known well enough: a blend that holds it cannot be judged. */
  | { readonly kind: "unknown" };

/** How a pore rating reached us: a page of the assay, a copy of the assay, trade pages, or memory. */
export type RatingEvidence = "assay-read" | "assay-copied" | "trade-pages" | "recalled";

/**
 * How well a pore rating is known: A page of the assay read, B copy of the assay, C three trade pages or more that
 * roughly agree, D fewer or disputed, E recalled.
 */
export type RatingConfidence = "A" | "B" | "C" | "D" | "E";

/** Published comedogenic grade 0 to 5, or unrated; `low` and `high` span the figures in circulation. */
export type PoreRating =
  | {
      readonly rated: true;
      readonly value: number;
      readonly low: number;
      readonly high: number;
      /** Missing where the caller brings a figure without saying where from. */
      readonly evidence?: RatingEvidence;
      readonly confidence?: RatingConfidence;
    }
  | { readonly rated: false };

/** A substance in a scented ingredient that the law lists or limits [millionths of the ingredient by mass] */
export interface Held {
  /** Label name, the group's where the law lists a group. */
  readonly name: string;
  readonly low: number;
  readonly high: number;
  /** Whether it is a fragrance allergen that a label names; some are only limited. */
  readonly isListed: boolean;
  /** Most of it in a jar that stays on skin [millionths of the jar]; missing where none is published. */
  readonly most?: number;
}

/** What a scented ingredient, an essential oil above all, brings beside its share. */
export interface Aromatic {
  /** Missing where no composition is on record: a blend that holds it cannot be judged. */
  readonly holds?: readonly Held[];
  /** Name under which the law lists the ingredient itself among the fragrance allergens. */
  readonly listedAs?: string;
  /** Most on skin that meets the sun [hundredths of a percent of the jar]; missing where it does not burn. */
  readonly sunMostShare?: number;
  /** There is a limit for it as a whole and its figure is not on record: it needs a `mostShare`. */
  readonly isMostUntold?: true;
}

export interface SolidFatReading {
  readonly celsius: number;
  /** [% by mass] */
  readonly percent: number;
}

export interface Ingredient {
  readonly id: string;
  readonly name: string;
  /** Label name (International Nomenclature of Cosmetic Ingredients). */
  readonly inci: string;
  readonly kind: IngredientKind;
  readonly composition: Composition;
  readonly poreRating: PoreRating;
  /** Allergen families such as "tree-nut"; empty when none is known. */
  readonly allergenFamilies: readonly string[];
  /** Whether it smells of something in the jar; missing where that is not on record. */
  readonly scented?: boolean;
  /** Measured values where the triacylglycerol formulas do not hold (wax esters, hydrocarbons). */
  readonly measured?: {
    /** [g iodine per 100 g] */
    readonly iodineValue?: number;
    /** [mg KOH per g] */
    readonly saponificationValue?: number;
    /** Kinematic viscosity at 32 C [mm2/s] */
    readonly viscosityMm2PerS?: number;
  };
  /** Settled solid fat of this lot as a laboratory measured it, never rising; put here by `withCertificate`. */
  readonly solidFatCurve?: readonly SolidFatReading[];
  /**
   * How far the acids that make its solids stray from lot to lot: one standard deviation as a part of their amount; a
   * tenth when not said.
   */
  readonly compositionSpread?: number;
  /** A liquid that is reckoned liquid throughout, and by itself sets below this temperature [C]. */
  readonly setsBelowC?: number;
  /** Heat-sensitive: add below this temperature [C]. */
  readonly addBelowC?: number;
  /** Missing for what is not known to bring anything listed or limited. */
  readonly aromatic?: Aromatic;
  /** Most of it in any jar [hundredths of a percent]; no limit when missing. */
  readonly mostShare?: number;
  /** None is left at the maker's for the time being. */
  readonly ranOut?: true;
}
