/**
 * A blend as the solver sees it: moles of every species in one gram of fat, and what is liquid at any temperature.
 *
 * Flat number arrays, because a slider move asks for some forty equilibria before the next frame.
 */
import { type Blend, WHOLE } from "../blend.ts";
import type { Ingredient } from "../ingredient.ts";
import { fatProfile } from "./profile.ts";
import type { PureFat } from "./pure-fat-correlation.ts";
import type { Species } from "./species.ts";

/** Fresh: just whipped, beta-prime crystals. Settled: after about a week, beta crystals. */
export type FatState = "fresh" | "settled";

export interface Melt {
  /** Species that crystallise in our range: those that crystallise alone first, then the lauric ones. */
  readonly species: readonly Species[];
  readonly lauricFrom: number;
  /** Moles of each species in one gram of fat. */
  readonly moles: readonly number[];
  /** [g/mol] */
  readonly molarMass: readonly number[];
  /** Per molecule. */
  readonly doubleBonds: readonly number[];
  readonly settled: Crystals;
  readonly fresh: Crystals;
  /** Everything that is liquid at every temperature, per gram of fat. */
  readonly liquidMoles: number;
  readonly liquidG: number;
  /** Part of the blend's mass that is fat or oil; the rest is undissolved powder. */
  readonly fatFraction: number;
  /** The fats and oils, each with its part of all of them by mass. */
  readonly parts: readonly FatPart[];
  /** Whether one of them brings a measured curve. */
  readonly measured: boolean;
}

export interface FatPart {
  readonly ingredient: Ingredient;
  /** Sum one. */
  readonly fraction: number;
}

/** ln K = heat (1/T - 1/Tm), with heat = dH/R [K] and Tm [K]. */
export interface Crystals {
  readonly heat: readonly number[];
  readonly meltingK: readonly number[];
  /** K over that of a lauric species melting at 25 C: one heat for all makes one exponential do for all of them. */
  readonly relativeK: readonly number[];
  /** What the solver has found so far, warmest first; it starts the next one there. */
  readonly solved: Solved[];
}

export interface Solved {
  readonly kelvin: number;
  /** Moles of liquid in one gram of fat. */
  readonly liquid: number;
  readonly theta: number;
  /** [% by mass] */
  readonly solidFat: number;
}

/** One over the melting point that lauric constants are told against [1/K] */
export const LAURIC_K_IS_1_AT = 1 / 298.15;

const GAS_CONSTANT = 8.314462618; // J/mol K, CODATA 2018

/** Stands for "has no such crystal": melts at absolute zero. */
const NEVER: PureFat = { meltingK: 1, fusionJPerMol: 0 };

/**
 * Gather the species of a blend.
 * @param blend every composition has passed `compositionFindings`
 * @returns the melt; nothing when the blend holds no fat or oil
 */
export function meltOf(blend: Blend): Melt | undefined {
  const fats = blend.parts.filter(
    ({ ingredient }) => ingredient.composition.kind !== "undissolved",
  );
  const whole = fats.reduce((sum, { share }) => sum + share, 0);
  if (whole === 0) return undefined;
  const parts = fats.map(({ ingredient, share }) => ({ ingredient, fraction: share / whole }));
  return mix(parts, whole / WHOLE);
}

function mix(parts: readonly FatPart[], fatFraction: number): Melt {
  const place = new Map<Species, number>();
  const species: Species[] = [];
  let lauricFrom = 0;
  for (const lauric of [false, true]) {
    for (const { ingredient } of parts) {
      for (const { species: one } of fatProfile(ingredient).species) {
        if (one.lauric === lauric && !place.has(one)) place.set(one, species.push(one) - 1);
      }
    }
    if (!lauric) lauricFrom = species.length;
  }
  const moles = species.map(() => 0);
  const molarMass = species.map(() => 0);
  const doubleBonds = species.map(() => 0);
  let liquidMoles = 0;
  let liquidG = 0;
  for (const { ingredient, fraction } of parts) {
    const { species: brought, liquid, inert } = fatProfile(ingredient);
    for (const each of brought) {
      const at = place.get(each.species)!;
      moles[at]! += each.molesPerG * fraction;
      molarMass[at]! += each.gPerG * fraction;
      doubleBonds[at]! += each.doubleBondsPerG * fraction;
    }
    liquidMoles += (liquid.molesPerG + inert.molesPerG) * fraction;
    liquidG += (liquid.gPerG + inert.gPerG) * fraction;
  }
  for (let i = 0; i < moles.length; i++) {
    molarMass[i]! /= moles[i]!;
    doubleBonds[i]! /= moles[i]!;
  }
  return {
    ...{ species, lauricFrom, moles, molarMass, doubleBonds, liquidMoles, liquidG },
    ...{ fatFraction, parts },
    settled: crystals(species, "settled"),
    fresh: crystals(species, "fresh"),
    measured: parts.some(({ ingredient }) => ingredient.solidFatCurve !== undefined),
  };
}

function crystals(species: readonly Species[], state: FatState): Crystals {
  const heat: number[] = [];
  const meltingK: number[] = [];
  const relativeK: number[] = [];
  for (const each of species) {
    const crystal = each[state] ?? NEVER;
    heat.push(crystal.fusionJPerMol / GAS_CONSTANT);
    meltingK.push(crystal.meltingK);
    const inverse = LAURIC_K_IS_1_AT - 1 / crystal.meltingK;
    relativeK.push(each.lauric ? Math.exp((crystal.fusionJPerMol / GAS_CONSTANT) * inverse) : 0);
  }
  return { heat, meltingK, relativeK, solved: [] };
}
