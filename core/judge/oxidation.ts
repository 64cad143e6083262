/**
 * How quickly a blend's fats take up oxygen, as an order and never as a shelf life.
 *
 * Method: oxidizability COX = (1 x 18:1 + 10.3 x 18:2 + 21.6 x 18:3)/100 over the fatty acids by mass (Fatemi &
 * Hammond 1980, Lipids 15:379; formula from memory), of a blend the mean by mass of its fats. It knows nothing of
 * tocopherols, peroxides, refining, light or metals, and against one published set of stability hours its order was
 * only weakly borne out (`core/README.md`).
 * Not valid where other unsaturated acids prevail: ricinoleic (castor), isolated double bonds of long chains
 * (meadowfoam), wax esters (jojoba). Such a fat is unknown: what it adds is not guessed, only known to be nothing
 * below zero. A liquid without double bonds counts nothing, nor does a wax, which is all but saturated (iodine values
 * of 5 to 25, from memory).
 * Steady below 2, quick from 5 (own cut: between high-oleic and ordinary oils, and below the high-linoleic ones).
 */
import { type Blend, WHOLE } from "../blend.ts";
import type { Composition, Ingredient } from "../ingredient.ts";
import { type FattyAcid, fattyAcidByCode, fattyAcidMolarMass } from "./fatty-acid.ts";
import { parseTriacylglycerol } from "./triacylglycerol.ts";

export interface Oxidation {
  readonly order: "steady" | "ordinary" | "quick" | "cannot-judge";
  /** COX; nothing while an ingredient is unknown [-] */
  readonly oxidizability?: number;
  /** Ids of the ingredients the formula does not hold for. */
  readonly unknown: readonly string[];
}

const STEADY_BELOW = 2;
const QUICK_FROM = 5;
/** By double bonds of an 18-carbon acid. */
const RELATIVE_RATE = [0, 1, 10.3, 21.6];
/** Unsaturated acids outside the formula that still leave it standing [% of the fatty acids] (own choice) */
const OTHERS_UP_TO_PERCENT = 10;
/** Unknown ingredients that are too little to matter, together [share of the fat] (own choice) */
const LEFT_OUT_UP_TO = 0.01;

/**
 * Where a blend stands in the order.
 * @param blend every composition has passed `compositionFindings`
 */
export function oxidationOf(blend: Blend): Oxidation {
  const fats = blend.parts.filter(
    ({ ingredient }) => ingredient.composition.kind !== "undissolved",
  );
  const fat = fats.reduce((sum, { share }) => sum + share, 0) / WHOLE;
  let known = 0;
  let unknownFraction = 0;
  const unknown: string[] = [];
  for (const { ingredient, share } of fats) {
    const own = oxidizability(ingredient);
    const fraction = share / WHOLE / fat;
    if (own === undefined) {
      unknown.push(ingredient.id);
      unknownFraction += fraction;
    } else {
      known += own * fraction;
    }
  }
  const isKnown = fats.length > 0 && unknownFraction <= LEFT_OUT_UP_TO;
  if (!isKnown) return { order: known >= QUICK_FROM ? "quick" : "cannot-judge", unknown };
  return { order: orderOf(known), oxidizability: known, unknown };
}

const found = new WeakMap<Composition, { readonly cox: number | undefined }>();

/**
 * COX of one ingredient.
 * @returns nothing where the formula does not hold, and for what is no fat
 */
export function oxidizability({ composition, measured }: Ingredient): number | undefined {
  if (composition.kind === "wax") return 0;
  if (composition.kind === "inert-liquid") return measured?.iodineValue === 0 ? 0 : undefined;
  if (composition.kind === "unknown" || composition.kind === "undissolved") return undefined;
  let known = found.get(composition);
  if (!known) found.set(composition, (known = { cox: byFattyAcids(composition) }));
  return known.cox;
}

function byFattyAcids(composition: Extract<Composition, { percent: unknown }>): number | undefined {
  const acids = acidsByMass(composition);
  const total = acids.reduce((sum, [, mass]) => sum + mass, 0);
  let weighted = 0;
  let others = 0;
  for (const [acid, mass] of acids) {
    const rate = acid.carbons === 18 && !acid.hydroxy ? RELATIVE_RATE[acid.doubleBonds] : undefined;
    weighted += (rate ?? 0) * mass;
    if (rate === undefined && acid.doubleBonds > 0 && !isLikeOleic(acid)) others += mass;
  }
  return (100 * others) / total > OTHERS_UP_TO_PERCENT ? undefined : weighted / total;
}

/** Left out by the formula, and no reason to doubt it: one double bond adds about as little as oleic acid's. */
function isLikeOleic(acid: FattyAcid): boolean {
  return acid.doubleBonds === 1 && acid.carbons < 18;
}

function acidsByMass(
  composition: Extract<Composition, { percent: unknown }>,
): (readonly [FattyAcid, number])[] {
  const entries = Object.entries(composition.percent);
  if (composition.kind === "fatty-acids") {
    return entries.flatMap(([code, percent]) => {
      const acid = fattyAcidByCode(code);
      return acid ? [[acid, percent] as const] : [];
    });
  }
  return entries.flatMap(([name, percent]) => {
    const tag = parseTriacylglycerol(name);
    if (!tag) return [];
    const moles = percent / tag.molarMass;
    return [...tag.outer, tag.middle].map(
      (acid) => [acid, moles * fattyAcidMolarMass(acid)] as const,
    );
  });
}

function orderOf(cox: number): Oxidation["order"] {
  return cox < STEADY_BELOW ? "steady" : cox < QUICK_FROM ? "ordinary" : "quick";
}
