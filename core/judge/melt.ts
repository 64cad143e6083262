/**
 * A blend as the solver sees it: moles of every species in one gram of fat, and what is liquid at any temperature.
 *
 * Flat number arrays, because a slider move asks for some forty equilibria before the next frame.
 */
import { type Blend, WHOLE } from "../blend.ts";
import type { Ingredient } from "../ingredient.ts";
import { type FatState, type Frame, frameOf } from "./frame.ts";
import { fatProfile } from "./profile.ts";
import type { Species } from "./species.ts";

export type { FatState };

export interface Melt {
  readonly frame: Frame;
  /** Species that crystallise in our range: those that crystallise alone first, then the lauric ones. */
  readonly species: readonly Species[];
  readonly lauricFrom: number;
  /** Moles of each species in one gram of fat. */
  readonly moles: Float64Array;
  /** [g/mol] */
  readonly molarMass: Float64Array;
  /** Per molecule. */
  readonly doubleBonds: Float64Array;
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

/** The crystals of the species, in the jar of this melt. */
export interface Crystals extends Pick<Frame["settled"], "heat" | "meltingK"> {
  /** What the solver has found so far, warmest first; it starts the next one there. */
  readonly solved: Solved[];
}

export interface Solved {
  readonly celsius: number;
  /** Moles of liquid in one gram of fat. */
  readonly liquid: number;
  readonly theta: number;
  /** [% by mass] */
  readonly solidFat: number;
}

/** The blend asked for last, because a judgement and what goes with it ask several times. */
let last: { readonly blend: Blend; readonly melt: Melt } | undefined;

/**
 * Gather the species of a blend.
 * @param blend every composition has passed `compositionFindings`
 * @returns the melt; nothing when the blend holds no fat or oil
 */
export function meltOf(blend: Blend): Melt | undefined {
  if (last?.blend === blend) return last.melt;
  const fats = blend.parts.filter(
    ({ ingredient }) => ingredient.composition.kind !== "undissolved",
  );
  const whole = fats.reduce((sum, { share }) => sum + share, 0);
  if (whole === 0) return undefined;
  const parts = fats.map(({ ingredient, share }) => ({ ingredient, fraction: share / whole }));
  const melt = mix(parts, whole / WHOLE);
  last = { blend, melt };
  return melt;
}

function mix(parts: readonly FatPart[], fatFraction: number): Melt {
  const profiles = parts.map(({ ingredient }) => fatProfile(ingredient));
  const frame = frameOf(profiles);
  const { species, lauricFrom } = frame;
  const moles = new Float64Array(species.length);
  const molarMass = new Float64Array(species.length);
  const doubleBonds = new Float64Array(species.length);
  let liquidMoles = 0;
  let liquidG = 0;
  for (let part = 0; part < parts.length; part++) {
    const { species: brought, liquid, inert } = profiles[part]!;
    const { fraction } = parts[part]!;
    const places = frame.places[part]!;
    for (let i = 0; i < brought.length; i++) {
      const each = brought[i]!;
      const at = places[i]!;
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
  const crystals = ({ heat, meltingK }: Frame["settled"]) => ({ heat, meltingK, solved: [] });
  return {
    ...{ frame, species, lauricFrom, moles, molarMass, doubleBonds, liquidMoles, liquidG },
    ...{ fatFraction, parts },
    settled: crystals(frame.settled),
    fresh: crystals(frame.fresh),
    measured: parts.some(({ ingredient }) => ingredient.solidFatCurve !== undefined),
  };
}
