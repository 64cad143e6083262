/**
 * An essential oil's record -> what the core reckons with: whole millionths, and the strictest limit of each substance.
 *
 * A butter reaches body, face and hands, so the lowest of these three categories counts, and a stricter law before
 * them (own choice). Small children are another matter: no jar is judged for them.
 */
import type { Aromatic, Held } from "#core/ingredient.ts";
import { DERMAL_LIMITS, type DermalLimit } from "./dermal-limits.ts";
import type { Constituent, EssentialOilFacts } from "./record.ts";

/** Held by oils and limited, and no entry among the fragrance allergens of Annex III. */
const UNLISTED: ReadonlySet<string> = new Set(["Methyl Eugenol", "Estragole", "Safrole"]);

const MILLIONTHS_PER_PERCENT = 10_000;
const LIMIT_OF = new Map(DERMAL_LIMITS.map((limit) => [limit.substance, limit]));

/** What of an essential oil the core judges by: constituents as ranges of its mass, and limits on skin. */
export function aromaticOf(oil: EssentialOilFacts): Aromatic {
  const { constituents, annexIIIEntry, phototoxicMostPercent: sun, mostUntold } = oil;
  return {
    holds: constituents.map(heldOf),
    ...(annexIIIEntry ? { listedAs: annexIIIEntry.name } : {}),
    ...(sun ? { sunMostShare: whole(sun.value * 100) } : {}),
    ...(mostUntold ? { isMostUntold: true } : {}),
  };
}

function heldOf({ name, low, high }: Constituent): Held {
  const most = mostPercentOf(LIMIT_OF.get(name));
  return {
    name,
    low: whole(low * MILLIONTHS_PER_PERCENT),
    high: whole(high * MILLIONTHS_PER_PERCENT),
    isListed: !UNLISTED.has(name),
    ...(most === undefined ? {} : { most: whole(most * MILLIONTHS_PER_PERCENT) }),
  };
}

/** The strictest limit on grown skin [% by mass of the jar]; nothing where none is published. */
function mostPercentOf(limit: DermalLimit | undefined): number | undefined {
  const { body, face, hands } = limit?.mostPercent ?? {};
  const limits = [body, face, hands, limit?.stricter?.mostPercent];
  const known = limits.filter((each) => each !== undefined);
  return known.length > 0 ? Math.min(...known) : undefined;
}

/** A figure finer than the unit would be rounded where nobody sees it. */
function whole(figure: number): number {
  const rounded = Math.round(figure);
  if (Math.abs(figure - rounded) > 1e-6) throw new Error(`${figure} is finer than a millionth`);
  return rounded;
}
