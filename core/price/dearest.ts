/**
 * The dearest blend that the bounds of a base allow, so that a maker sees how far up a price can go.
 */
import type { Base, Choice, Product } from "../compose/product.ts";
import { WHOLE } from "../blend.ts";

/**
 * The choice with the greatest price inside a base's bounds; the rules are not asked, so it may be refused.
 *
 * Price is linear in the shares: with the dearest allowed oil in every place, whatever the least shares leave over
 * goes to the dearest ingredients first, and no other choice comes dearer.
 * @param rateOf what a gram of an ingredient costs, in any unit; nothing when it is not known
 * @returns the choice; nothing when a cost is missing or no shares inside the bounds add up to the whole
 */
export function dearestChoice(
  product: Pick<Product, "places" | "additives">,
  base: Base,
  rateOf: (ingredient: string) => number | undefined,
): Choice | undefined {
  const places = base.oils.map((oil) => {
    const allowed = product.places.find(({ id }) => id === oil.place)?.allowed ?? [oil.ingredient];
    return { ...oil, ingredient: dearestOf(allowed, rateOf) };
  });
  const rows = [...base.butters, ...places].map((bound, at) => ({ ...bound, at }));
  if (rows.some(({ ingredient }) => rateOf(ingredient) === undefined)) return undefined;
  const fixed = product.additives.reduce((sum, { share }) => sum + share, 0);
  let left = rows.reduce((sum, { least }) => sum - least, WHOLE - fixed);
  if (left < 0) return undefined;
  const shares = rows.map(({ least }) => least);
  for (const row of [...rows].sort((a, b) => rateOf(b.ingredient)! - rateOf(a.ingredient)!)) {
    const more = Math.min(left, row.greatest - row.least);
    shares[row.at]! += more;
    left -= more;
  }
  if (left > 0) return undefined;
  const butters = base.butters.map(({ ingredient }, at) => ({ ingredient, share: shares[at]! }));
  const oils = places.map(({ place, ingredient }, at) => {
    return { place, ingredient, share: shares[base.butters.length + at]! };
  });
  return { base: base.id, butters, oils };
}

function dearestOf(allowed: readonly string[], rateOf: (id: string) => number | undefined): string {
  return allowed.reduce((one, other) =>
    (rateOf(other) ?? Infinity) > (rateOf(one) ?? Infinity) ? other : one,
  );
}
