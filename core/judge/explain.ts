/**
 * What makes the solids: which kinds of triacylglycerol crystallise, and which ingredients bring them.
 *
 * Method: the solid moles of a species are what `equilibrium.ts` leaves out of the liquid, times its molar mass. By
 * group, each species counts for its kind. By ingredient, the solid part of a species goes to the ingredients in the
 * share in which they bring its moles: a POS molecule from cocoa and one from shea are alike, so nothing tells whose
 * crystallised. What an ingredient makes here is therefore its part in this blend, not the solids it would have by
 * itself. Both columns sum to the solid fat. Where a lot's certificate puts the curve right, its species say whose
 * solids they are and the certificate how many: every line is brought to the measured sum in proportion.
 */
import type { Blend } from "../blend.ts";
import { type FatState, type Melt, meltOf } from "./melt.ts";
import { fatProfile } from "./profile.ts";
import { liquidMoles } from "./equilibrium.ts";
import { solidFatPercent } from "./solid-fat.ts";
import type { Species } from "./species.ts";
import { parseTriacylglycerol } from "./triacylglycerol.ts";
import type { Judgement } from "./verdict.ts";

/** S saturated, U unsaturated, in the order of the chain; SUU takes in USU. Lauric fats crystallise together. */
export const SOLID_GROUPS = ["trisaturated", "SUS", "SSU", "SUU", "UUU", "lauric", "wax"] as const;
export type SolidGroup = (typeof SOLID_GROUPS)[number];

export interface SolidsExplained {
  readonly celsius: number;
  readonly state: FatState;
  /** [% by mass of the fat] */
  readonly solidFat: number;
  /** Points of solid fat, greatest first; groups that make none are left out. */
  readonly groups: readonly { readonly group: SolidGroup; readonly points: number }[];
  /** Points of solid fat by ingredient id, greatest first; fats and oils that make none stand at 0. */
  readonly ingredients: readonly { readonly ingredient: string; readonly points: number }[];
  /** Measured on a lot whose species would all be liquid: solid, and nothing says what; 0 without certificate. */
  readonly unexplained: number;
}

/**
 * Explain a judgement: settled, then fresh, at each temperature of its curve and in use, coolest first.
 * @param blend the one that was judged
 * @returns nothing to tell when the blend could not be judged
 */
export function explainJudgement(
  blend: Blend,
  { solidFat, firmness }: Judgement,
): SolidsExplained[] {
  const melt = firmness && meltOf(blend);
  if (!melt) return [];
  const celsius = new Set([...solidFat.map((point) => point.celsius), firmness.celsius]);
  return [...celsius]
    .sort((one, other) => one - other)
    .flatMap((each) => [
      explainSolids(blend, melt, each, "settled"),
      explainSolids(blend, melt, each, "fresh"),
    ]);
}

/**
 * Explain the solid fat of a blend.
 * @param blend every composition has passed `compositionFindings`
 * @param melt of the same blend, from `meltOf`
 * @param celsius temperature, -10 to 60 [C]
 */
export function explainSolids(
  blend: Blend,
  melt: Melt,
  celsius: number,
  state: FatState,
): SolidsExplained {
  const liquid = liquidMoles(melt, state, celsius);
  const reckoned = melt.species.map(
    (_, at) => 100 * (melt.moles[at]! - liquid[at]!) * melt.molarMass[at]!,
  );
  const solidFat = solidFatPercent(melt, state, celsius);
  const sum = total(reckoned);
  const solid = sum > 0 ? reckoned.map((points) => (points * solidFat) / sum) : reckoned;
  return {
    celsius,
    state,
    solidFat,
    groups: byGroup(melt, solid),
    ingredients: byIngredient(blend, melt, solid),
    unexplained: sum > 0 ? 0 : solidFat,
  };
}

function byGroup(melt: Melt, solid: readonly number[]): SolidsExplained["groups"] {
  const points = new Map<SolidGroup, number>();
  for (const [at, species] of melt.species.entries()) {
    const group = groupOf(species);
    points.set(group, (points.get(group) ?? 0) + solid[at]!);
  }
  return [...points]
    .map(([group, made]) => ({ group, points: made }))
    .filter((line) => line.points > 0)
    .sort((one, other) => other.points - one.points);
}

function byIngredient(
  blend: Blend,
  melt: Melt,
  solid: readonly number[],
): SolidsExplained["ingredients"] {
  const place = new Map(melt.species.map((species, at) => [species, at]));
  const brought = blend.parts
    .filter(({ ingredient }) => ingredient.composition.kind !== "undissolved")
    .map(({ ingredient, share }) => ({
      ingredient: ingredient.id,
      species: fatProfile(ingredient).species.map(({ species, molesPerG }) => ({
        at: place.get(species)!,
        moles: molesPerG * share,
      })),
    }));
  const all = new Float64Array(solid.length);
  for (const { species } of brought) for (const { at, moles } of species) all[at]! += moles;
  return brought
    .map(({ ingredient, species }) => ({
      ingredient,
      points: total(species.map(({ at, moles }) => (solid[at]! * moles) / all[at]!)),
    }))
    .sort((one, other) => other.points - one.points);
}

function total(points: readonly number[]): number {
  return points.reduce((sum, next) => sum + next, 0);
}

/** The group a species counts for. */
function groupOf(species: Species): SolidGroup {
  if (species.lauric) return "lauric";
  if (species.structure !== undefined) return "wax";
  const tag = parseTriacylglycerol(species.name);
  if (!tag) throw new Error(`${species.name} is not three known acids`);
  if (tag.unsaturatedChains === 0) return "trisaturated";
  if (tag.unsaturatedChains === 1) return tag.middle.doubleBonds > 0 ? "SUS" : "SSU";
  return tag.unsaturatedChains === 2 ? "SUU" : "UUU";
}
