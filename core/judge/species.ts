/**
 * What the solid-fat model needs of one crystallising species: where it melts, settled and fresh, and how it shares a
 * crystal.
 *
 * Settled fat is reckoned with the beta crystals of the first weeks: beta-2 (form V of cocoa butter) where a species
 * has two beta forms, because beta-1 (form VI) takes months. Fresh fat, just whipped, is reckoned with beta-prime
 * crystals for species with one or two saturated chains (SUS, SUU), which is where post-hardening comes from. Lauric
 * species (fewer than 46 acyl carbons) share one solid solution; all others crystallise alone.
 */
import { MEASURED_PURE_FATS } from "./pure-fat-measured.ts";
import { type PureFat, ZERO_C, estimatePureFat } from "./pure-fat-correlation.ts";
import { type Triacylglycerol, isLauric } from "./triacylglycerol.ts";

export interface Species {
  readonly name: string;
  /** Crystals of the settled jar; nothing when the species stays liquid over our range. */
  readonly settled?: PureFat;
  /** Crystals of the jar just whipped; nothing when the species stays liquid over our range. */
  readonly fresh?: PureFat;
  /** Lauric species dissolve in one another's crystals. */
  readonly lauric: boolean;
  /** Points of fat solids that one point of these solids is worth to the finger; waxes alone have one. */
  readonly structure?: number;
}

/**
 * Below this melting point a species never crystallises in the range the model judges, -10 to 60 C,
 * so it is counted as liquid without further arithmetic.
 */
const ALWAYS_LIQUID_BELOW_K = ZERO_C - 10;

/**
 * Lauric solid solution: beta melting point of the correlation, lowered, and one heat for all. Three numbers fitted
 * by us to two remembered curves (coconut, palm kernel) and two read ones (murumuru, tucuma kernel); empirical, they
 * stand for the excess energy of mixing. Species that then melt nearest the same even degree are counted as one: six
 * fats of a hundred species each come to some twenty, and their mean error stays the same.
 */
const LAURIC = {
  trisaturatedShiftK: -21,
  unsaturatedShiftK: -5.5,
  fusionJPerMol: 350_000,
  stepK: 2,
};

/**
 * Beta-prime of a species not measured: lowered from its beta form by what the measured neighbours show
 * (POP -3.2 K, POS -4, SOS -6.5; SOO -14.9, POO -16.5; heats 0.69 to 0.76 and 0.84). Own choice.
 */
const BETA_PRIME_BY_ANALOGY = {
  disaturated: { shiftK: -5, heatFactor: 0.72 },
  monosaturated: { shiftK: -15, heatFactor: 0.84 },
};

const known = new Map<string, Species>();

/**
 * The species a triacylglycerol crystallises as, worked out once, so that two ingredients share the same object.
 * There are only as many as triples of known acids, so the memory is bounded.
 */
export function crystallise(tag: Triacylglycerol): Species {
  return remember(tag.name, () => derive(tag));
}

function remember(name: string, make: () => Species): Species {
  let species = known.get(name);
  if (!species) known.set(name, (species = make()));
  return species;
}

function derive(tag: Triacylglycerol): Species {
  const liquid = { name: tag.name, lauric: isLauric(tag) };
  if (tag.middle.hydroxy || tag.outer.some((acid) => acid.hydroxy)) return liquid;
  if (liquid.lauric) return lauricCell(tag) ?? liquid;
  const settled = betaCrystal(tag);
  if (settled.meltingK < ALWAYS_LIQUID_BELOW_K || settled.fusionJPerMol <= 0) return liquid;
  const fresh = freshCrystal(tag, settled);
  return fresh.meltingK < ALWAYS_LIQUID_BELOW_K
    ? { ...liquid, settled }
    : { ...liquid, settled, fresh };
}

/** All lauric species that melt within a step of one another. */
function lauricCell(tag: Triacylglycerol): Species | undefined {
  const shiftK = tag.unsaturatedChains === 0 ? LAURIC.trisaturatedShiftK : LAURIC.unsaturatedShiftK;
  const meltingC = estimatePureFat(tag).meltingK + shiftK - ZERO_C;
  const cellC = Math.round(meltingC / LAURIC.stepK) * LAURIC.stepK;
  if (cellC + ZERO_C < ALWAYS_LIQUID_BELOW_K) return undefined;
  return remember(`lauric ${cellC}`, () => {
    const crystal = { meltingK: cellC + ZERO_C, fusionJPerMol: LAURIC.fusionJPerMol };
    return { name: `lauric ${cellC}`, lauric: true, settled: crystal, fresh: crystal };
  });
}

function betaCrystal(tag: Triacylglycerol): PureFat {
  const measured = MEASURED_PURE_FATS[tag.name];
  return measured ? fromTable(measured.beta2 ?? measured.beta) : estimatePureFat(tag);
}

function freshCrystal(tag: Triacylglycerol, settled: PureFat): PureFat {
  if (tag.unsaturatedChains === 0 || tag.unsaturatedChains === 3) return settled;
  const measured = MEASURED_PURE_FATS[tag.name]?.betaPrime;
  if (measured) return fromTable(measured);
  const { shiftK, heatFactor } =
    tag.unsaturatedChains === 1
      ? BETA_PRIME_BY_ANALOGY.disaturated
      : BETA_PRIME_BY_ANALOGY.monosaturated;
  return {
    meltingK: settled.meltingK + shiftK,
    fusionJPerMol: settled.fusionJPerMol * heatFactor,
  };
}

function fromTable([meltingC, fusionKJ]: readonly [number, number]): PureFat {
  return { meltingK: meltingC + ZERO_C, fusionJPerMol: fusionKJ * 1000 };
}
