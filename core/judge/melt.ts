/**
 * A blend as the solver sees it: moles of every species in one gram of fat, and what is liquid at any temperature.
 *
 * Flat number arrays, because a slider move asks for some forty equilibria before the next frame.
 */
import { type Blend, WHOLE } from "../blend.ts";
import { type FatProfile, fatProfile } from "./profile.ts";
import type { PureFat } from "./pure-fat-correlation.ts";
import type { Species } from "./species.ts";

/** Fresh: just whipped, beta-prime crystals. Settled: after about a week, beta crystals. */
export type FatState = "fresh" | "settled";

export interface Melt {
  /** Species that crystallise in our range: those that crystallise alone first, then the lauric ones. */
  readonly species: readonly Species[];
  readonly lauricFrom: number;
  /** Moles of each species in one gram of fat. */
  readonly moles: Float64Array;
  /** [g/mol] */
  readonly molarMass: Float64Array;
  readonly settled: Crystals;
  readonly fresh: Crystals;
  /** Everything that is liquid at every temperature, per gram of fat. */
  readonly liquidMoles: number;
  readonly liquidG: number;
  /** Part of the blend's mass that is fat or oil; the rest is undissolved powder. */
  readonly fatFraction: number;
}

/** ln K = heat (1/T - 1/Tm), with heat = dH/R [K] and Tm [K]. */
export interface Crystals {
  readonly heat: Float64Array;
  readonly meltingK: Float64Array;
}

const GAS_CONSTANT = 8.314462618; // J/mol K, CODATA 2018

/** Stands for "has no such crystal": melts at absolute zero. */
const NEVER: PureFat = { meltingK: 1, fusionJPerMol: 0 };

/**
 * Gather the species of a blend.
 * @param blend every composition has passed `compositionFindings`
 * @returns the melt; nothing when the blend holds no fat or oil
 */
export function meltOf(blend: Blend): Melt | undefined {
  const profiles: { profile: FatProfile; fraction: number }[] = [];
  let fatFraction = 0;
  for (const { ingredient, share } of blend.parts) {
    if (ingredient.composition.kind === "undissolved") continue;
    fatFraction += share / WHOLE;
    profiles.push({ profile: fatProfile(ingredient), fraction: share / WHOLE });
  }
  return fatFraction > 0 ? mix(profiles, fatFraction) : undefined;
}

function mix(
  profiles: readonly { profile: FatProfile; fraction: number }[],
  fatFraction: number,
): Melt {
  const amounts = new Map<Species, number>();
  let liquidMoles = 0;
  let liquidG = 0;
  for (const { profile, fraction } of profiles) {
    const perGramOfFat = fraction / fatFraction;
    for (const { species, molesPerG } of profile.species) {
      amounts.set(species, (amounts.get(species) ?? 0) + molesPerG * perGramOfFat);
    }
    liquidMoles += (profile.liquid.molesPerG + profile.inert.molesPerG) * perGramOfFat;
    liquidG += (profile.liquid.gPerG + profile.inert.gPerG) * perGramOfFat;
  }
  const alone = [...amounts.keys()].filter((each) => !each.lauric);
  const species = alone.concat([...amounts.keys()].filter((each) => each.lauric));
  return {
    species,
    lauricFrom: alone.length,
    moles: Float64Array.from(species, (each) => amounts.get(each)!),
    molarMass: Float64Array.from(species, (each) => each.molarMass),
    settled: crystals(species, "settled"),
    fresh: crystals(species, "fresh"),
    liquidMoles,
    liquidG,
    fatFraction,
  };
}

function crystals(species: readonly Species[], state: FatState): Crystals {
  return {
    heat: Float64Array.from(species, (each) => (each[state] ?? NEVER).fusionJPerMol / GAS_CONSTANT),
    meltingK: Float64Array.from(species, (each) => (each[state] ?? NEVER).meltingK),
  };
}
