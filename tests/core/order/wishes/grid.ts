/**
 * The slow way to the best blend for wishes, to check the quick one by: every oil in every place, every share on a
 * grid, each composed, judged and priced in full, and the objective reckoned anew from what the judgement says.
 */
import { composeBlend } from "#core/compose/compose.ts";
import type { Choice, Product } from "#core/compose/product.ts";
import { type Judgement, judgeBlend } from "#core/judge/verdict.ts";
import { movedBetween } from "#core/order/nearest/nearest.ts";
import type { Wishes } from "#core/order/wishes/wish.ts";
import { priceJar } from "#core/price/price.ts";
import type { Tariff } from "#core/price/tariff.ts";
import { ingredientById } from "#data/library.ts";
import { combinations } from "../nearest/grid.ts";

export function judged(product: Product, choice: Choice) {
  const composed = composeBlend(product, choice, ingredientById);
  if ("findings" in composed) return undefined;
  const { useCelsius, airFraction, rules } = product;
  const judgement = judgeBlend(composed.blend, { celsius: [], useCelsius, airFraction, rules });
  return { blend: composed.blend, judgement };
}
type Judged = NonNullable<ReturnType<typeof judged>>;

/** Steps firmer and steps richer than the customer's own. */
function stepsBetween(was: Judgement, is: Judgement) {
  return {
    firmer: Math.log(is.firmness!.yieldPa / was.firmness!.yieldPa) / Math.log(1.5),
    richer:
      Math.log(is.oilPhase!.viscosityMm2PerS! / was.oilPhase!.viscosityMm2PerS!) / Math.log(1.15),
  };
}

/** Whether a judged choice keeps every wish. */
export function keeps(wishes: Wishes, own: Judged, is: Judged, tariff?: Tariff): boolean {
  const { judgement, blend } = is;
  const { firmer, richer } = stepsBetween(own.judgement, judgement);
  const ingredients = blend.parts.map((part) => part.ingredient);
  const jar = tariff ? priceJar(tariff, blend) : undefined;
  return (
    judgement.verdict === "orderable" &&
    (wishes.feel !== "firmer" || firmer >= 0.5) &&
    (wishes.feel !== "softer" || firmer <= -0.5) &&
    (wishes.oilPhase !== "richer" || richer >= 0.5) &&
    (wishes.oilPhase !== "thinner" || richer <= -0.5) &&
    (judgement.softensAboveLeastCelsius ?? -10) >= (wishes.holdsToCelsius ?? -10) &&
    (wishes.poreRatingMost === undefined ||
      ingredients.every(
        ({ poreRating }) => poreRating.rated && poreRating.value <= wishes.poreRatingMost!,
      )) &&
    !ingredients.some(({ id }) => wishes.without?.includes(id)) &&
    !ingredients.some(({ allergenFamilies: families }) =>
      families.some((family) => wishes.withoutFamilies?.includes(family)),
    ) &&
    (!jar || ("jarMinor" in jar && jar.jarMinor <= (wishes.priceMostMinor ?? Infinity)))
  );
}

/** The documented objective, from figures of the judgement. */
export function scoreFrom(
  wishes: Wishes,
  ownChoice: Choice,
  own: Judged,
  choice: Choice,
  is: Judged,
  tariff?: Tariff,
): number {
  const { firmer, richer } = stepsBetween(own.judgement, is.judgement);
  const of = (steps: number, isWished: boolean) =>
    !isWished ? Math.abs(steps) : steps < 1 ? 3 * (1 - steps) : steps - 1;
  const families = (each: Judged) =>
    new Set(each.blend.parts.flatMap(({ ingredient }) => ingredient.allergenFamilies));
  const before = families(own);
  const brought = [...families(is)].filter((family) => !before.has(family)).length;
  const nano = (each: Judged) =>
    each.blend.parts.reduce(
      (sum, { ingredient, share }) => sum + tariff!.rateNano[ingredient.id]! * share,
      tariff!.fixedNano,
    );
  return (
    movedBetween(ownChoice, choice).moved / 1000 +
    of(wishes.feel === "softer" ? -firmer : firmer, wishes.feel !== undefined) +
    of(wishes.oilPhase === "thinner" ? -richer : richer, wishes.oilPhase !== undefined) +
    2 * brought +
    (tariff ? Math.max(0, (nano(is) / nano(own) - 1) * 10) : 0)
  );
}

/**
 * The least score on the grid.
 * @param limit score from which on nothing is looked at, and the answer when the grid has nothing better
 * @returns nothing when there is no limit and no blend of the grid keeps the wishes
 */
export function bestWished(
  product: Product,
  own: Choice,
  wishes: Wishes,
  { step, limit }: { readonly step: number; readonly limit: number | undefined },
  tariff?: Tariff,
): number | undefined {
  const base = product.bases.find(({ id }) => id === own.base)!;
  const ownJudged = judged(product, own)!;
  const bounds = [...base.butters, ...base.oils];
  const total = product.additives.reduce((left, { share }) => left - share, 10_000);
  const options = base.oils.map(
    ({ place }) => product.places.find(({ id }) => id === place)!.allowed,
  );
  let best = limit;
  for (const oils of combinations(options)) {
    for (const shares of sharesOn(bounds, total, step)) {
      const choice: Choice = {
        base: base.id,
        butters: base.butters.map(({ ingredient }, at) => ({ ingredient, share: shares[at]! })),
        oils: base.oils.map(({ place }, at) => {
          const share = shares[base.butters.length + at]!;
          return { place, ingredient: oils[at]!, share };
        }),
      };
      const moved = movedBetween(own, choice).moved;
      if (best !== undefined && moved / 1000 >= best) continue;
      const is = judged(product, choice);
      if (!is || !keeps(wishes, ownJudged, is, tariff)) continue;
      const score = scoreFrom(wishes, own, ownJudged, choice, is, tariff);
      if (best === undefined || score < best) best = score;
    }
  }
  return best;
}

/** Shares inside the bounds on a grid laid through the greatest of each; the last takes what is left. */
function sharesOn(
  bounds: readonly { readonly least: number; readonly greatest: number }[],
  left: number,
  step: number,
): number[][] {
  const [first, ...others] = bounds;
  if (!first) return left === 0 ? [[]] : [];
  if (others.length === 0) {
    return left >= first.least && left <= first.greatest ? [[left]] : [];
  }
  const found: number[][] = [];
  for (let share = first.least; share <= first.greatest; share += step) {
    for (const rest of sharesOn(others, left - share, step)) found.push([share, ...rest]);
  }
  return found;
}
