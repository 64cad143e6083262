/**
 * Which ingredient goes in when, and the order in which they are weighed.
 *
 * What is solid melts first, **in the pot**; liquid **oils** follow off the heat, where they cool
 * it; what heat spoils, and powders, which only clump in hot fat, go in last, at the **cool-down**.
 * Weighed in the same order: butters from the highest melting point down, oils and additives from
 * the greatest share down. Every composition has been judged before.
 */
import { type Part, WHOLE } from "../blend.ts";
import type { Composition, Ingredient } from "../ingredient.ts";
import { type Melt, meltOf } from "../judge/melt.ts";
import { slipMeltingC } from "../judge/softening.ts";
import { solidFatPercent } from "../judge/solid-fat.ts";

export type Stage = "pot" | "oils" | "cool-down";

/** In the order in which they are worked through. */
export const STAGES = ["pot", "oils", "cool-down"] as const satisfies readonly Stage[];

/**
 * An oil or additive with more solids than this in a cool room is scooped, not poured, and must be
 * melted (own choice).
 */
const POURABLE = { celsius: 20, solidsPercent: 5 };

/** When an ingredient goes in. */
export function stageOf(ingredient: Ingredient): Stage {
  if (ingredient.kind === "butter" || ingredient.kind === "wax") return "pot";
  if (ingredient.kind === "powder") return "cool-down";
  if (meltingOf(ingredient).scooped) return "pot"; // even if heat spoils it: `planBatch` says so
  if (ingredient.addBelowC !== undefined || ingredient.kind === "additive") return "cool-down";
  return "oils";
}

/** Anything with a share and an ingredient, in the order in which it is weighed. */
export function inOrderWeighed<T extends Part>(parts: readonly T[]): T[] {
  const pot = parts.filter(({ ingredient }) => stageOf(ingredient) === "pot");
  const slipC = ({ ingredient }: Part) => meltingOf(ingredient).slipC;
  pot.sort((one, other) => slipC(other) - slipC(one) || byShare(one, other));
  const later = (stage: Stage) =>
    parts.filter(({ ingredient }) => stageOf(ingredient) === stage).sort(byShare);
  return [...pot, ...later("oils"), ...later("cool-down")];
}

function byShare(one: Part, other: Part): number {
  if (one.share !== other.share) return other.share - one.share;
  return one.ingredient.id < other.ingredient.id ? -1 : 1;
}

interface Melting {
  /** Too solid in a cool room to be poured. */
  readonly scooped: boolean;
  /** Slip melting point; what has none is weighed last of the pot [C] */
  readonly slipC: number;
}

const NO_FAT: Melting = { scooped: false, slipC: -Infinity };

const meltings = new WeakMap<Composition, Melting>();

/** How an ingredient melts by itself, worked out once per composition object. */
function meltingOf(ingredient: Ingredient): Melting {
  let melting = meltings.get(ingredient.composition);
  if (!melting) {
    const melt = meltOf({ parts: [{ ingredient, share: WHOLE }] });
    melting = melt ? meltingOfFat(melt) : NO_FAT;
    meltings.set(ingredient.composition, melting);
  }
  return melting;
}

function meltingOfFat(melt: Melt): Melting {
  const solids = solidFatPercent(melt, "settled", POURABLE.celsius);
  return { scooped: solids > POURABLE.solidsPercent, slipC: slipMeltingC(melt) ?? -Infinity };
}
