/**
 * What a run of a batch is judged again on: the rules its orders were quoted by, and the choice they made.
 */
import { WHOLE } from "#core/blend.ts";
import type { Choice, Product } from "#core/compose/product.ts";
import { STEPS_LEAST } from "#core/make/scale.ts";
import type { QuoteSnapshot } from "#core/wire.ts";
import type { FirmnessLaw } from "#core/judge/firmness.ts";
import { productOfQuote } from "../actions/offer.ts";
import type { IngredientOf } from "../actions/pantry.ts";
import type { Shop } from "../ports.ts";
import type { OrderRow } from "../storage/orders.ts";
import type { Bench } from "./bench-day.ts";
import { type OrderWithQuote, withQuote } from "./groups.ts";
import { type BatchRun, bulkMgOf } from "./sheets.ts";

export interface RunGround {
  readonly product: Product;
  /** As it was ordered. */
  readonly ordered: Choice;
  readonly ingredientOf: IngredientOf;
  readonly law: FirmnessLaw | undefined;
  /** What a part must keep to be weighed on this scale [hundredths of a percent] */
  readonly leastShare: number;
  readonly orders: readonly OrderWithQuote[];
}

/**
 * The ground of every run of a batch; what they share is read once.
 * @param members orders of the batch
 * @param ingredientOf knows every ingredient of the runs
 * @returns nothing for a run of which no order is being made any more, so that nobody was promised anything
 */
export async function groundsOf(
  shop: Shop,
  bench: Bench,
  runs: readonly BatchRun[],
  members: readonly OrderRow[],
  ingredientOf: IngredientOf,
): Promise<(RunGround | undefined)[]> {
  const { law } = await shop.kitchenLaws.inForce(bench.shopId);
  const productOf = productsOnce(shop);
  return await Promise.all(
    runs.map(async (run, at): Promise<RunGround | undefined> => {
      const orders = members
        .filter(({ state, batchRun }) => state === "in-making" && (batchRun ?? 0) === at)
        .map((row) => withQuote(row));
      const [first] = orders;
      if (!first) return undefined;
      const products = await Promise.all(orders.map(({ quote }) => productOf(quote)));
      const product = products[0]!;
      return {
        product: { ...product, rules: strictest(product, products) },
        ordered: first.quote.choice,
        ...{ ingredientOf, law: law ?? undefined, orders },
        leastShare: leastShareOf(run, bench.particulars.scaleStepMg),
      };
    }),
  );
}

/** Products of quotes, each version and season read once. */
function productsOnce(shop: Shop): (quote: QuoteSnapshot) => Promise<Product> {
  const known = new Map<string, Promise<Product>>();
  return (quote) => {
    const { id, version } = quote.product;
    const key = JSON.stringify([id, version, quote.parcel?.leastCelsius]);
    let product = known.get(key);
    if (!product) {
      product = productOfQuote(shop, quote).then((found) => {
        if (!found) throw new Error(`version ${version} of ${id} is missing`);
        return found;
      });
      known.set(key, product);
    }
    return product;
  };
}

/** Parcels of one run may go to a warm place and to a cool one: what holds for the warmest holds for all. */
function strictest({ rules }: Product, products: readonly Product[]) {
  const limits = products.flatMap((each) => each.rules.softensAboveLeastCelsius ?? []);
  return limits.length === 0 ? rules : { ...rules, softensAboveLeastCelsius: Math.max(...limits) };
}

/** One step more than the scale needs in every load, because targets are rounded to steps. */
function leastShareOf(run: BatchRun, scaleStepMg: number): number {
  const stepsLeast = (STEPS_LEAST + 1) * run.loads;
  return Math.ceil((stepsLeast * scaleStepMg * WHOLE) / bulkMgOf(run));
}
