/**
 * What the solid-fat model needs of one triacylglycerol: where it melts, settled and fresh, and how it shares a
 * crystal.
 *
 * Settled fat is reckoned with beta crystals. Fresh fat, just whipped, is reckoned with beta-prime crystals for
 * species with one or two saturated chains (SUS, SUU), which is where post-hardening comes from.
 * Lauric species (fewer than 46 acyl carbons) share one solid solution; all others crystallise alone.
 */
import { MEASURED_PURE_FATS } from "./pure-fat-measured.ts";
import { type PureFat, estimatePureFat } from "./pure-fat-correlation.ts";
import type { Triacylglycerol } from "./triacylglycerol.ts";

const ZERO_C = 273.15;

export interface Species {
  readonly name: string;
  /** [g/mol] */
  readonly molarMass: number;
  readonly doubleBonds: number;
  /** Crystals of the settled jar; nothing when the species stays liquid over our range. */
  readonly settled?: PureFat;
  /** Crystals of the jar just whipped; nothing when the species stays liquid over our range. */
  readonly fresh?: PureFat;
  /** Lauric species dissolve in one another's crystals. */
  readonly lauric: boolean;
}

/**
 * Below this melting point a species never crystallises in the range the model judges, -10 to 60 C,
 * so it is counted as liquid without further arithmetic.
 */
const ALWAYS_LIQUID_BELOW_K = ZERO_C - 10;

/**
 * Lauric solid solution: correlation beta-prime melting point, lowered, with a raised heat of fusion. Three numbers
 * fitted by us to remembered coconut and palm kernel curves; empirical, they stand for the excess energy of mixing.
 */
const LAURIC = {
  trisaturatedShiftK: -15,
  unsaturatedShiftK: -12,
  heatFactor: 2.8,
  carbonsBelow: 46,
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
 * The crystal figures of a species, worked out once, so that two ingredients share the same object.
 * There are only as many species as triples of known acids, so the memory is bounded.
 */
export function crystallise(tag: Triacylglycerol): Species {
  let species = known.get(tag.name);
  if (!species) {
    species = derive(tag);
    known.set(tag.name, species);
  }
  return species;
}

function derive(tag: Triacylglycerol): Species {
  const lauric = tag.carbons < LAURIC.carbonsBelow;
  const hydroxy = tag.middle.hydroxy || tag.outer.some((acid) => acid.hydroxy);
  const settled = hydroxy ? undefined : lauric ? lauricCrystal(tag) : betaCrystal(tag);
  const base = { name: tag.name, molarMass: tag.molarMass, doubleBonds: tag.doubleBonds, lauric };
  if (!settled || settled.meltingK < ALWAYS_LIQUID_BELOW_K || settled.fusionJPerMol <= 0)
    return base;
  const fresh = lauric ? settled : freshCrystal(tag, settled);
  return fresh.meltingK < ALWAYS_LIQUID_BELOW_K
    ? { ...base, settled }
    : { ...base, settled, fresh };
}

function lauricCrystal(tag: Triacylglycerol): PureFat {
  const betaPrime = estimatePureFat(tag, "betaPrime");
  const shiftK = tag.unsaturatedChains === 0 ? LAURIC.trisaturatedShiftK : LAURIC.unsaturatedShiftK;
  return {
    meltingK: betaPrime.meltingK + shiftK,
    fusionJPerMol: betaPrime.fusionJPerMol * LAURIC.heatFactor,
  };
}

function betaCrystal(tag: Triacylglycerol): PureFat {
  const measured = MEASURED_PURE_FATS[tag.name]?.beta;
  return measured ? fromTable(measured) : estimatePureFat(tag, "beta");
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
