/** Blends of the real library, for checks against the world outside: a better figure there is meant to move them. */
import { type Blend, makeBlend } from "#core/blend.ts";
import type { Ingredient } from "#core/ingredient.ts";
import { type FatState, meltOf } from "#core/judge/melt.ts";
import { solidFatPercent } from "#core/judge/solid-fat.ts";
import { ingredientById } from "#data/library.ts";

/** An ingredient that must be there. */
export function inLibrary(id: string): Ingredient {
  const ingredient = ingredientById(id);
  if (!ingredient) throw new Error(`the library does not hold ${id}`);
  return ingredient;
}

/** A blend from percent by mass; throws when the parts make no blend. */
export function libraryBlend(percentById: Readonly<Record<string, number>>): Blend {
  const made = makeBlend(
    Object.entries(percentById).map(([id, percent]) => ({
      ingredient: inLibrary(id),
      share: Math.round(percent * 100),
    })),
  );
  if ("findings" in made) throw new Error(made.findings.map(({ code }) => code).join());
  return made.blend;
}

/** Solid fat content of a blend [% by mass]. */
export function solidsOf(blend: Blend, celsius: number, state: FatState = "settled"): number {
  const melt = meltOf(blend);
  if (!melt) throw new Error("no fat in this blend");
  return solidFatPercent(melt, state, celsius);
}
