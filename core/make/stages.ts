/**
 * Which ingredient goes in when, and the order in which they are weighed.
 *
 * What is solid melts first, **in the pot**; liquid **oils** follow off the heat, where they cool
 * it; what heat spoils, and powders, which only clump in hot fat, go in last, at the **cool-down**.
 * Weighed in the same order: butters from the highest melting point down, oils and additives from
 * the greatest share down. Every composition has been judged before.
 */
import { type Part, WHOLE } from "../blend.ts";
import type { Ingredient } from "../ingredient.ts";
import { meltOf } from "../judge/melt.ts";
import { slipMeltingC } from "../judge/softening.ts";
import { solidFatPercent } from "../judge/solid-fat.ts";

export type Stage = "pot" | "oils" | "cool-down";

/** In the order in which they are worked through. */
export const STAGES: readonly { readonly stage: Stage; readonly title: string }[] = [
  { stage: "pot", title: "Into the pot" },
  { stage: "oils", title: "Oils, off the heat" },
  { stage: "cool-down", title: "At the cool-down" },
];

/**
 * An oil or additive with more solids than this in a cool room is scooped, not poured, and must be
 * melted (own choice).
 */
const POURABLE = { celsius: 20, solidsPercent: 5 };

/** When an ingredient goes in. */
export function stageOf(ingredient: Ingredient): Stage {
  if (ingredient.kind === "butter" || ingredient.kind === "wax") return "pot";
  if (ingredient.kind === "powder" || ingredient.addBelowC !== undefined) return "cool-down";
  if (isScooped(ingredient)) return "pot";
  return ingredient.kind === "additive" ? "cool-down" : "oils";
}

/** Anything with a share and an ingredient, in the order in which it is weighed. */
export function inOrderWeighed<T extends Part>(parts: readonly T[]): T[] {
  const pot = parts.filter(({ ingredient }) => stageOf(ingredient) === "pot");
  const melting = new Map(pot.map(({ ingredient }) => [ingredient, slipOf(ingredient)]));
  pot.sort(
    (one, other) =>
      melting.get(other.ingredient)! - melting.get(one.ingredient)! || byShare(one, other),
  );
  const later = (stage: Stage) =>
    parts.filter(({ ingredient }) => stageOf(ingredient) === stage).sort(byShare);
  return [...pot, ...later("oils"), ...later("cool-down")];
}

function byShare(one: Part, other: Part): number {
  if (one.share !== other.share) return other.share - one.share;
  return one.ingredient.id < other.ingredient.id ? -1 : 1;
}

function isScooped(ingredient: Ingredient): boolean {
  const melt = meltOf({ parts: [{ ingredient, share: WHOLE }] });
  if (!melt) return false;
  return solidFatPercent(melt, "settled", POURABLE.celsius) > POURABLE.solidsPercent;
}

/** Melting point of one ingredient [C]; what has none known is weighed last of the pot. */
function slipOf(ingredient: Ingredient): number {
  const melt = meltOf({ parts: [{ ingredient, share: WHOLE }] });
  return (melt && slipMeltingC(melt)) ?? -Infinity;
}
