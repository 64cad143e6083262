/**
 * A batch looked over before it begins: its runs, what they need of the shelf together, what is short, and which orders
 * could wait so that the rest can be made.
 */
import type { Blend } from "#core/blend.ts";
import { type ScaledBatch, scaleBatch } from "#core/make/scale.ts";
import { pantryOf } from "../actions/pantry.ts";
import type { Shop } from "../ports.ts";
import { Refusal } from "../problem.ts";
import type { Portion } from "../storage/stock.ts";
import { keptOf } from "./allot.ts";
import { type Bench, nextNumber } from "./bench-day.ts";
import {
  type BlendGroup,
  type OrderWithQuote,
  groupByBase,
  groupByBlend,
  withQuote,
} from "./groups.ts";
import { blendOf, runOfOrders } from "./run.ts";
import { type BatchRun, linesOf } from "./sheets.ts";

/** More orders than this on one sheet cannot be followed at the bench. */
export const ORDERS_MOST = 40;

/** What a batch needs of one ingredient, over all its runs. */
export interface Need {
  readonly ingredient: string;
  readonly name: string;
  readonly needMg: number;
  /** Lots to take it from, first expired first. */
  readonly portions: readonly Portion[];
  /** What no usable lot can give [mg] */
  readonly shortMg: number;
  /** Whether lots of it are kept at all; without, nobody can say whether there is enough. */
  readonly isKept: boolean;
}

interface PlannedRun extends BatchRun {
  readonly group: BlendGroup;
}

export interface BatchPlan {
  readonly number: string;
  readonly orders: readonly OrderWithQuote[];
  readonly runs: readonly PlannedRun[];
  readonly needs: readonly Need[];
  /** Needs that the shelf cannot meet. */
  readonly short: readonly Need[];
  /** Orders that could wait, so that what is on the shelf is enough; empty when even one order is too many. */
  readonly couldWait: readonly OrderWithQuote[];
}

/**
 * Plan a batch of paid orders.
 * @throws Refusal make.batch.refused when they are no longer all paid, differ in base, are too many, or cannot be
 *   weighed
 */
export async function planOrders(
  shop: Shop,
  bench: Bench,
  orderIds: readonly string[],
): Promise<BatchPlan> {
  const ids = [...new Set(orderIds)];
  if (ids.length > ORDERS_MOST) {
    throw new Refusal("make.batch.refused", `One batch takes at most ${ORDERS_MOST} orders.`);
  }
  const rows = ids.length === 0 ? [] : await shop.orders.byIds(bench.shopId, ids);
  const orders = rows.filter(({ state }) => state === "paid").map((row) => withQuote(row));
  const [base, ...otherBases] = groupByBase(orders);
  if (!base || otherBases.length > 0 || orders.length !== ids.length) {
    throw new Refusal(
      "make.batch.refused",
      "Choose paid orders of one base. Nothing was changed; the bench shows which orders wait now.",
    );
  }
  const number = await nextNumber(shop, bench);
  const named = base.blends.flatMap(({ quote }) => quote.parts.map(({ ingredient }) => ingredient));
  const { ingredientOf } = await pantryOf(shop, bench.shopId, named);
  const runs: PlannedRun[] = [];
  for (const group of base.blends) {
    runs.push({ group, ...(await runOfOrders(shop, bench, ingredientOf, number, group)) });
  }
  const needs = await needsOf(shop, bench, runs);
  const short = needs.filter(({ shortMg, isKept }) => isKept && shortMg > 0);
  const scale = (group: BlendGroup, lossShare: number) =>
    scaleOf(bench, blendOf(group.quote, ingredientOf), group, lossShare);
  const couldWait = short.length === 0 ? [] : ordersThatCouldWait(scale, orders, runs, short);
  return { number, orders, runs, needs, short, couldWait };
}

/** What runs need of the shelf together, and which lots it would come from. */
export async function needsOf(
  shop: Shop,
  { shopId, today }: Bench,
  runs: readonly BatchRun[],
): Promise<Need[]> {
  const sums = new Map<string, { name: string; needMg: number }>();
  for (const { ingredient, name, targetMg } of runs.flatMap(linesOf)) {
    const before = sums.get(ingredient)?.needMg ?? 0;
    sums.set(ingredient, { name, needMg: before + targetMg });
  }
  const ids = [...sums.keys()];
  const [kept, { ingredientOf }] = await Promise.all([
    shop.batchLots.kept(shopId, ids),
    pantryOf(shop, shopId, ids),
  ]);
  return await Promise.all(
    [...sums].map(async ([ingredient, { name, needMg }]) => ({
      ingredient,
      name: ingredientOf(ingredient)?.name ?? name,
      needMg,
      isKept: kept.has(ingredient),
      ...(await shop.stock.suggest(shopId, ingredient, needMg, today, keptOf(runs, ingredient))),
    })),
  );
}

/**
 * The latest orders that use something short, left out one after the other until the shelf is enough; then those that
 * turn out to fit are taken back. Not always the fewest, but the ones who have waited least.
 */
function ordersThatCouldWait(
  scale: (group: BlendGroup, lossShare: number) => ScaledBatch | undefined,
  orders: readonly OrderWithQuote[],
  runs: readonly PlannedRun[],
  short: readonly Need[],
): OrderWithQuote[] {
  const have = new Map(short.map((need) => [need.ingredient, need.needMg - need.shortMg]));
  const losses = new Map(
    runs.map(({ group, workOrder }) => [group.quote.product.version, workOrder.lossShare]),
  );
  const fits = (members: readonly OrderWithQuote[]) => {
    const needed = new Map<string, number>();
    for (const group of groupByBlend(members)) {
      const scaled = scale(group, losses.get(group.quote.product.version) ?? 0);
      if (!scaled) return false; // too little is left to weigh
      for (const { ingredient, targetMg } of scaled.weighings) {
        needed.set(ingredient.id, (needed.get(ingredient.id) ?? 0) + targetMg);
      }
    }
    return [...have].every(([ingredient, mg]) => (needed.get(ingredient) ?? 0) <= mg);
  };
  const uses = ({ quote }: OrderWithQuote) =>
    quote.parts.some(({ ingredient, share }) => share > 0 && have.has(ingredient));
  let members = [...orders];
  const waiting: OrderWithQuote[] = [];
  for (const each of [...orders].reverse().filter(uses)) {
    if (fits(members)) break;
    members = members.filter((other) => other !== each);
    waiting.push(each);
  }
  if (members.length === 0 || !fits(members)) return [];
  return waiting.filter((each) => {
    if (!fits([...members, each])) return true;
    members = [...members, each];
    return false;
  });
}

function scaleOf(
  { particulars: { scaleStepMg } }: Bench,
  blend: Blend,
  { orders }: BlendGroup,
  lossShare: number,
): ScaledBatch | undefined {
  const jars = orders.map(({ quote: { jar, quantity } }) => ({ fillG: jar.fillG, quantity }));
  const made = scaleBatch(blend, { jars, lossShare, scaleStepMg });
  return "batch" in made ? made.batch : undefined;
}
