/**
 * An ingredient as the library records it: every figure beside the source it was taken from.
 *
 * A figure is an object that names its source; `library.ts` strips the sources off and hands the
 * core its plain `Ingredient`. In a list of ranges the first is the one ruled in; the rest are kept
 * because they compete with it.
 */
import type { IngredientKind, RatingConfidence } from "#core/ingredient.ts";
import type { FatFamily } from "#core/judge/distribution.ts";
import type { SourceKey } from "../sources.ts";

/** Where a figure comes from. */
export interface Provenance {
  readonly source: SourceKey;
  /** Page or table, and what was done to the printed figure. */
  readonly at?: string;
}

export interface Value extends Provenance {
  readonly value: number;
}

export interface Range extends Provenance {
  readonly low: number;
  readonly high: number;
}

export interface Text extends Provenance {
  readonly text: string;
}

type Percent = Readonly<Record<string, number>>;
type ReportedPercent = Readonly<Record<string, number | readonly [low: number, high: number]>>;

export type RecordedComposition =
  /** Fatty acids by lipid code [percent by mass]. */
  | (Provenance & {
      readonly kind: "fatty-acids";
      readonly percent: Percent;
      readonly family: FatFamily;
    })
  /** Triacylglycerols by name [percent by mass]. */
  | (Provenance & { readonly kind: "triacylglycerols"; readonly percent: Percent })
  /** Liquid that is no triacylglycerol of ours; molar mass [g/mol]. */
  | (Provenance & { readonly kind: "inert-liquid"; readonly molarMass: number })
  /** One crystal of its own; the figures mean what they mean in the core's `Composition`. */
  | (Provenance & {
      readonly kind: "wax";
      readonly molarMass: number;
      readonly meltingCelsius: number;
      readonly fusionKJPerMol: number;
      readonly structure: number;
    })
  | { readonly kind: "undissolved" }
  | { readonly kind: "unknown" };

/** A competing composition as somebody reported it: it may be a range or only part of the whole. */
export interface ReportedComposition extends Provenance {
  readonly of: "fatty-acids" | "triacylglycerols";
  /** [percent by mass, unless `at` says moles] */
  readonly percent: ReportedPercent;
}

export interface CompositionChoice {
  readonly chosen: RecordedComposition;
  /** Sterols and other unsaponifiables, where a typical figure is known [percent by mass]. */
  readonly unsaponifiable?: Value;
  /** Which rule of `data/README.md` chose it. */
  readonly why: string;
  readonly alternatives?: readonly ReportedComposition[];
  /** What was measured of a wax in oil. */
  readonly inOil?: {
    /** Least share that gels an oil [percent by mass] */
    readonly gellingPercent: readonly Range[];
    /** Heat of fusion of the wax [J/g] */
    readonly heatJPerG?: Value;
    /** Melting points of mixtures with cocoa butter [percent wax by mass, C] */
    readonly inCocoaButter?: Provenance & {
      readonly points: readonly (readonly [percent: number, celsius: number])[];
    };
  };
}

export type RecordedPoreRating =
  | (Provenance & {
      readonly rated: true;
      /** Comedogenic grade, 0 to 5 */
      readonly value: number;
      readonly low: number;
      readonly high: number;
      readonly evidence: string;
      readonly confidence: RatingConfidence;
    })
  | { readonly rated: false; readonly why: string };

export type AllergenFamily =
  | "tree-nut"
  /** On the US list of tree nuts until January 2025: shea, coconut, palm nut. */
  | "tree-nut-formerly-listed"
  /** Kernels outside every list that people ask about all the same. */
  | "other-nut"
  | "sesame"
  | "soy"
  /** Often made from soya: the supplier knows. */
  | "soy-possible"
  | "maize"
  | "bee";

export interface Appearance extends Provenance {
  readonly scent: string;
  readonly colour: string;
}

export interface Density extends Range {
  /** [C]; missing where the source does not say */
  readonly celsius?: number;
  readonly unit: "g/mL" | "relative to water";
  /** Solid or liquid where it matters. */
  readonly state?: "solid" | "liquid";
}

/** How much of a listed fragrance allergen, or of another limited substance, an essential oil holds. */
export interface Constituent extends Range {
  /** Name as a label declares it, such as "Linalool". [% by mass of the oil] */
  readonly name: string;
}

/** Name of an entry of Annex III, with its number. */
export interface ListedOil extends Provenance {
  readonly entry: number;
  /** As a label declares it, which may be a group's name. */
  readonly name: string;
}

/** What a law or an opinion says of the whole oil. */
export interface OilRule extends Provenance {
  readonly where: string;
  readonly rule: string;
}

/**
 * What to know of an essential oil before it meets skin. Working figures: the sheet of the lot goes first, and a safety
 * assessor decides. Limits of single substances stand in `dermal-limits.ts`.
 */
export interface EssentialOilFacts {
  readonly constituents: readonly Constituent[];
  /** Entry of Annex III under which the oil itself is a fragrance allergen to name; missing where it has none. */
  readonly annexIIIEntry?: ListedOil;
  /** Most on skin that meets the sun, leave-on [% by mass of the product]; missing where the rule does not reach. */
  readonly phototoxicMostPercent?: Value;
  readonly rules?: readonly OilRule[];
  /** Why no figure is known for the oil as a whole in a body butter, limited or unsupported: the maker brings one. */
  readonly mostUntold?: Provenance & { readonly why: string };
  /** Closed cup [C] */
  readonly flashC: Range;
}

export interface RecordedIngredient {
  readonly id: string;
  readonly name: string;
  readonly inci: Text;
  readonly kind: IngredientKind;
  readonly composition: CompositionChoice;
  /** Published spread of each fatty acid [percent by mass]. */
  readonly fattyAcidRanges?: Provenance & {
    readonly percent: Readonly<Record<string, readonly [low: number, high: number]>>;
  };
  /** [g iodine per 100 g] */
  readonly iodineValue?: readonly Range[];
  /** [mg KOH per g] */
  readonly saponificationValue?: readonly Range[];
  /** [percent by mass] */
  readonly unsaponifiablePercent?: readonly Range[];
  /** Melting, slip or setting temperature; `at` says which [C] */
  readonly meltingC?: readonly Range[];
  readonly density?: readonly Density[];
  /** Measured values the core cannot reckon from composition. */
  readonly measured?: {
    readonly iodineValue?: Value;
    readonly saponificationValue?: Value;
    /** Kinematic viscosity at 32 C [mm2/s] */
    readonly viscosityMm2PerS?: Value;
  };
  readonly poreRating: RecordedPoreRating;
  readonly allergens: Provenance & {
    readonly families: readonly AllergenFamily[];
    readonly note?: string;
  };
  /** Refined and unrefined are the same fat in another coat. */
  readonly appearance: { readonly unrefined?: Appearance; readonly refined?: Appearance };
  /** Raw material, unopened, cool and dark [months]. */
  readonly shelfMonths: Range;
  /** Trade habit in products without water [percent by mass]; no legal limit. */
  readonly usePercent: Range;
  /** Heat-sensitive: stir in below this [C]. */
  readonly addBelowC?: Value;
  readonly essentialOil?: EssentialOilFacts;
  readonly note?: string;
}
