/**
 * How the margins of the rules change as shares move: straight lines laid against the true curves at one blend.
 *
 * The slope for an ingredient is the change of the margins as a little of it is mixed into the blend. Because every
 * blend is a mixture, these slopes tell of any other blend as well, oils included that the blend does not hold.
 */
import { type Part, WHOLE } from "../../blend.ts";
import type { Ingredient } from "../../ingredient.ts";
import type { Margins, Probe } from "./probe.ts";

export interface Slopes {
  /** The blend the lines touch. */
  readonly parts: readonly Part[];
  readonly margins: Margins;
  /** Share of an ingredient in the blend the lines touch [hundredths of a percent] */
  readonly shareOf: (ingredient: Ingredient) => number;
  /** Points of each margin per hundredth of a percent of the ingredient, worked out when first asked for. */
  readonly of: (ingredient: Ingredient) => Margins;
}

/** How much is mixed in to see what changes: far above the noise of the solver, small against any curve. */
const TRIED_SHARE = 20;
/** In place of a fall without end, which no linear program can hold: no other share makes up for it. */
const FALLS_AWAY = -1;

/** Slopes at a blend. */
export function slopesAt(parts: readonly Part[], margins: Margins, probe: Probe): Slopes {
  const shares = sharesOf(parts);
  const known = new Map<string, Margins>();
  const slope = (ingredient: Ingredient): Margins => {
    const more = probe(withMore(parts, ingredient));
    // A mixture of W + d parts is a step of d / (W + d) of the way towards the ingredient.
    const scale = (WHOLE + TRIED_SHARE) / (TRIED_SHARE * WHOLE);
    return margins.map((margin, at) => {
      const next = more[at]!;
      // Infinity: nothing is ruled, or a little of it makes a figure untellable, and no line leads there.
      if (margin === Infinity || next === Infinity) return 0;
      return next === -Infinity ? FALLS_AWAY : (next - margin) * scale;
    });
  };
  return {
    ...{ parts, margins },
    shareOf: ({ id }) => shares.get(id) ?? 0,
    of: (ingredient) => {
      let found = known.get(ingredient.id);
      if (!found) known.set(ingredient.id, (found = slope(ingredient)));
      return found;
    },
  };
}

/** The same slopes laid at another blend near by, whose margins are known. */
export function relaid(slopes: Slopes, parts: readonly Part[], margins: Margins): Slopes {
  const shares = sharesOf(parts);
  return { parts, margins, shareOf: ({ id }) => shares.get(id) ?? 0, of: slopes.of };
}

function sharesOf(parts: readonly Part[]): ReadonlyMap<string, number> {
  return new Map(parts.map(({ ingredient, share }) => [ingredient.id, share]));
}

/** In its own place where it is in the blend, so that the same ingredients stay in the same order. */
function withMore(parts: readonly Part[], more: Ingredient): Part[] {
  const isThere = parts.some(({ ingredient }) => ingredient === more);
  if (!isThere) return [...parts, { ingredient: more, share: TRIED_SHARE }];
  return parts.map(({ ingredient, share }) => ({
    ingredient,
    share: ingredient === more ? share + TRIED_SHARE : share,
  }));
}
