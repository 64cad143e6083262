/**
 * Published jars that earn less than they should: below the policy, or less than when they were published, at what the
 * materials cost by the newest lots or by the packs. One pass over what is for sale.
 */
import { type Composed, composeBlend } from "#core/compose/compose.ts";
import type { Blend } from "#core/blend.ts";
import {
  type Base,
  type Jar,
  type Product,
  ingredientsOf,
  startingChoice,
} from "#core/compose/product.ts";
import type { Ingredient } from "#core/ingredient.ts";
import { marginShareAsked, marginShareOf } from "#core/price/margin.ts";
import type { PackCost, PricePolicy } from "#core/price/policy.ts";
import { priceJar } from "#core/price/price.ts";
import { makeTariff } from "#core/price/tariff.ts";
import type { PricesAtPublishing } from "./at-publishing.ts";
import type { Costs } from "./material-costs.ts";

/** A version as it is for sale, read from storage. */
export interface ForSale {
  readonly product: Product;
  readonly policy: PricePolicy;
  /** What was recorded at publishing, if anything was. */
  readonly recorded: PricesAtPublishing | undefined;
}

/** What materials cost, each way. */
export interface CostsNow {
  readonly packs: Costs;
  readonly dearestLots: Costs;
  readonly newestLots: Costs;
}

export interface CostRise {
  readonly ingredient: string;
  readonly from: PackCost;
  readonly to: PackCost;
}

/** Which cost the margin was reckoned at. */
export type CostedAt = "newest-lot" | "pack";

export interface FallenMargin {
  readonly product: { readonly id: string; readonly name: string };
  readonly base: Pick<Base, "id" | "name">;
  readonly jar: Jar;
  readonly jarMinor: number;
  readonly marginShare: number;
  readonly askedShare: number;
  /** Nothing when none was recorded. */
  readonly publishedShare: number | undefined;
  readonly at: CostedAt;
  /** Ingredients that cost more than the price reckons with or than at publishing, by what they add to a jar. */
  readonly rises: readonly CostRise[];
  /** What the policy would ask at these costs [minor units]; nothing when its greatest price forbids it. */
  readonly wouldMinor: number | undefined;
}

/**
 * A base in a jar that cannot be bought at the moment, or a whole product while the cost of something in it is
 * missing.
 */
export type Unsold = { readonly product: { readonly id: string; readonly name: string } } & (
  | { readonly because: "cost-missing"; readonly ingredient: string }
  | {
      readonly because: "above-most" | "not-a-blend" | "policy";
      readonly base: Pick<Base, "id" | "name">;
      readonly jar: Jar;
    }
);

export interface MarginReport {
  /** Worst first: by how far below what was asked or published. */
  readonly fallen: readonly FallenMargin[];
  readonly unsold: readonly Unsold[];
  /** Versions that were published without their prices being recorded. */
  readonly unrecorded: number;
  readonly looked: number;
}

/**
 * A fall since publishing that is smaller is rounding, not news [hundredths of a percent; common practice, no
 * source]
 */
const FALL_LEAST_SHARE = 50;

/** Look at every base, as the maker wrote it, in every jar. */
export function fallenMargins(
  sold: readonly ForSale[],
  now: CostsNow,
  ingredientOf: (id: string) => Ingredient | undefined,
): MarginReport {
  const newest = { ...now.packs, ...now.newestLots };
  const dearest = { ...now.packs, ...now.dearestLots };
  const fallen: FallenMargin[] = [];
  const unsold: Unsold[] = [];
  let unrecorded = 0;
  let looked = 0;
  for (const { product, policy, recorded } of sold) {
    if (!recorded) unrecorded++;
    const priced = policy.materialAt === "dearest-lot" ? dearest : now.packs;
    const ingredient = ingredientsOf(product).find((id) => !priced[id]);
    if (ingredient !== undefined) {
      unsold.push({ product, because: "cost-missing", ingredient });
      continue;
    }
    for (const base of product.bases) {
      const composed = composeBlend(product, startingChoice(base), ingredientOf);
      for (const jar of product.jars) {
        looked++;
        const seat = { product, policy, base, jar, recorded };
        const found = lookAt(seat, composed, { priced, newest, packs: now.packs });
        if (found && "because" in found) unsold.push(found);
        else if (found) fallen.push(found);
      }
    }
  }
  return { fallen: fallen.sort((a, b) => missing(b) - missing(a)), unsold, unrecorded, looked };
}

/** How far below what was asked or published [hundredths of a percent] */
function missing({ askedShare, publishedShare = -Infinity, marginShare }: FallenMargin): number {
  return Math.max(askedShare, publishedShare) - marginShare;
}

interface Seat {
  readonly product: Product;
  readonly policy: PricePolicy;
  readonly base: Base;
  readonly jar: Jar;
  readonly recorded: PricesAtPublishing | undefined;
}

interface ThreeCosts {
  readonly priced: Costs;
  readonly newest: Costs;
  readonly packs: Costs;
}

function lookAt(
  seat: Seat,
  composed: Composed,
  costs: ThreeCosts,
): FallenMargin | Unsold | undefined {
  const { policy, jar } = seat;
  const where = placeOf(seat);
  if ("findings" in composed) return { ...where, because: "not-a-blend" };
  const { blend } = composed;
  const price = askedPrice(policy, jar, blend, costs.priced);
  if (typeof price === "string") return { ...where, because: price };
  const margins = (["newest-lot", "pack"] as const).flatMap((at) => {
    const by = at === "pack" ? costs.packs : costs.newest;
    const isKnown = blend.parts.every(({ ingredient: { id } }) => by[id]);
    const marginShare = isKnown ? marginShareOf(price, blend, policy, jar, by) : undefined;
    return marginShare === undefined ? [] : [{ at, by, marginShare }];
  });
  const worst = margins.reduce((one, other) => (other.marginShare < one.marginShare ? other : one));
  const askedShare = marginShareAsked(policy);
  const publishedShare = seat.recorded?.jars[seat.base.id]?.[jar.id]?.marginShare;
  const fell =
    publishedShare !== undefined && publishedShare - worst.marginShare >= FALL_LEAST_SHARE;
  if (worst.marginShare >= askedShare && !fell) return undefined;
  const before = { ...costs.priced, ...(fell ? seat.recorded?.costs : {}) };
  const would = askedPrice(policy, jar, blend, worst.by);
  return {
    ...where,
    jarMinor: price,
    marginShare: worst.marginShare,
    askedShare,
    publishedShare,
    at: worst.at,
    rises: risesOf(blend, before, worst.by),
    wouldMinor: typeof would === "number" ? would : undefined,
  };
}

function placeOf({ product, base, jar }: Seat) {
  const { id, name } = product;
  return { product: { id, name }, base: { id: base.id, name: base.name }, jar };
}

/** What the policy asks for a blend at these costs, or why it asks nothing. */
function askedPrice(
  policy: PricePolicy,
  jar: Jar,
  blend: Blend,
  costs: Costs,
): number | "policy" | "above-most" {
  const ids = blend.parts.map(({ ingredient: { id } }) => id);
  const made = makeTariff(policy, jar, costs, ids);
  if ("findings" in made) return "policy";
  const priced = priceJar(made.tariff, blend);
  return "jarMinor" in priced ? priced.jarMinor : "above-most";
}

/** Ingredients that cost more than before, those that add most to a jar first. */
function risesOf(blend: Blend, before: Costs, after: Costs): CostRise[] {
  return blend.parts
    .flatMap(({ ingredient: { id }, share }) => {
      const [from, to] = [before[id]!, after[id]!];
      const more = (to.packMinor / to.packMg - from.packMinor / from.packMg) * share;
      return more > 0 ? [{ ingredient: id, from, to, more }] : [];
    })
    .sort((a, b) => b.more - a.more)
    .map(({ more: _, ...rise }) => rise);
}
