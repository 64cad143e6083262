/**
 * Paid orders -> a batch with its work order, stored together or not at all; and the batch's end.
 */
import type { Blend } from "#core/blend.ts";
import { type WorkOrder, makeWorkOrder } from "#core/make/work-order.ts";
import type { QuoteSnapshot } from "#core/wire.ts";
import { ingredientById } from "#data/library.ts";
import type { Shop } from "../ports.ts";
import { Refusal } from "../problem.ts";
import { PricePolicyShape, QuoteSnapshotShape, ShopParticularsShape } from "../shapes.ts";
import { Conflict } from "../storage/database.ts";
import type { OrderRow } from "../storage/orders.ts";
import { productOfVersion } from "./offer.ts";

export interface OrderWithQuote {
  readonly order: OrderRow;
  readonly quote: QuoteSnapshot;
}

/** What a batch was issued as: one sheet for each blend in it. */
export interface BatchSheets {
  readonly runs: readonly {
    readonly workOrder: WorkOrder;
    /** How many times the vessel is filled for it. */
    readonly loads: number;
  }[];
}

/** Orders of one blend, that can be made together. */
export interface BlendGroup {
  readonly quote: QuoteSnapshot;
  readonly orders: readonly OrderWithQuote[];
}

/** More orders than this on one sheet cannot be followed at the bench. */
const ORDERS_MOST = 40;

export function withQuote(order: OrderRow): OrderWithQuote {
  return { order, quote: QuoteSnapshotShape.parse(JSON.parse(order.snapshot)) };
}

/** Gather orders whose blends are the same to the last share, oldest first. */
export function groupByBlend(orders: readonly OrderRow[]): BlendGroup[] {
  const groups = new Map<string, OrderWithQuote[]>();
  for (const each of orders.map(withQuote)) {
    const key = blendKey(each.quote);
    groups.set(key, [...(groups.get(key) ?? []), each]);
  }
  return [...groups.values()].map((members) => ({ quote: members[0]!.quote, orders: members }));
}

/**
 * Issue a batch for paid orders of one blend.
 * @param orderIds ids the maker chose
 * @returns the batch number
 * @throws Refusal make.batch.refused when they are no longer all paid, differ in blend, or cannot be weighed
 */
export async function issueBatch(
  shop: Shop,
  shopId: string,
  orderIds: readonly string[],
): Promise<string> {
  const paid = await shop.orders.inStates(shopId, ["paid"]);
  const chosen = paid.filter(({ id }) => orderIds.includes(id));
  const [group, ...others] = groupByBlend(chosen);
  if (!group || others.length > 0 || chosen.length !== new Set(orderIds).size) {
    throw new Refusal(
      "make.batch.refused",
      "Choose paid orders of one blend. Nothing was changed; the list below is up to date.",
    );
  }
  if (chosen.length > ORDERS_MOST) {
    throw new Refusal("make.batch.refused", `One batch takes at most ${ORDERS_MOST} orders.`);
  }
  const number = await nextNumber(shop, shopId);
  const workOrder = await writeWorkOrder(shop, shopId, number, group);
  const batch = {
    id: shop.numbers.id(),
    shopId,
    number,
    state: "open" as const,
    workOrder: JSON.stringify({ runs: [{ workOrder, loads: 1 }] } satisfies BatchSheets),
    issuedAt: shop.clock.seconds(),
  };
  const moves = chosen.map(({ id }) => ({
    orderId: id,
    to: "in-making" as const,
    at: batch.issuedAt,
    who: "maker" as const,
    what: `batch ${number}`,
    with: { batchId: batch.id, batchRun: 0 },
  }));
  try {
    await shop.batches.issue(batch, moves);
  } catch (error) {
    if (!(error instanceof Conflict)) throw error;
    throw new Refusal(
      "order.state.conflict",
      "One of these orders has just changed. Nothing was stored; please look and try again.",
    );
  }
  return number;
}

/**
 * Call a batch and its orders made.
 * @throws Refusal make.batch.unknown, order.state.conflict
 */
export async function closeBatch(shop: Shop, shopId: string, number: string): Promise<void> {
  const batch = await shop.batches.byNumber(shopId, number);
  if (!batch) throw new Refusal("make.batch.unknown", `There is no batch ${number}.`);
  const at = shop.clock.seconds();
  const members = await shop.orders.ofBatch(batch.id);
  const moves = members
    .filter(({ state }) => state === "in-making")
    .map(({ id }) => ({
      orderId: id,
      to: "made" as const,
      at,
      who: "maker" as const,
      what: `batch ${number} made`,
    }));
  try {
    await shop.batches.close(batch.id, moves);
  } catch (error) {
    if (!(error instanceof Conflict)) throw error;
    throw new Refusal("order.state.conflict", "The batch has just changed. Please look again.");
  }
}

async function writeWorkOrder(
  shop: Shop,
  shopId: string,
  batchNumber: string,
  { quote, orders }: BlendGroup,
): Promise<WorkOrder> {
  const { id, version, name } = quote.product;
  const [owner, product, row, { law }] = await Promise.all([
    shop.shops.byId(shopId),
    productOfVersion(shop, id, version),
    shop.shops.version(id, version),
    shop.kitchenLaws.inForce(shopId),
  ]);
  if (!owner || !product || !row) throw new Error(`version ${version} of ${id} is missing`);
  const particulars = ShopParticularsShape.parse(JSON.parse(owner.particulars));
  const { lossShare } = PricePolicyShape.parse(JSON.parse(row.pricePolicy));
  const made = makeWorkOrder({
    batchNumber,
    madeOnISO: dayIn(particulars.timeZone, shop.clock.seconds()),
    makerName: particulars.maker,
    productName: name,
    baseName: quote.base.name,
    blend: blendOf(quote),
    orders: orders.map(({ order, quote: { jar, quantity } }) => ({
      reference: order.reference,
      jarName: jar.name,
      fillG: jar.fillG,
      quantity,
    })),
    lossShare,
    scaleStepMg: particulars.scaleStepMg,
    airFraction: product.airFraction,
    useCelsius: product.useCelsius,
    law,
  });
  if ("workOrder" in made) return made.workOrder;
  throw new Refusal("make.batch.refused", "No work order can be written for this blend yet.", {
    findings: made.findings,
  });
}

function blendOf(quote: QuoteSnapshot): Blend {
  return {
    parts: quote.parts.map(({ ingredient: id, share }) => {
      const ingredient = ingredientById(id);
      if (!ingredient) throw new Error(`the library no longer holds ${id}`);
      return { ingredient, share };
    }),
  };
}

/** Number of the next batch of the day: 261125-01. */
async function nextNumber(shop: Shop, shopId: string): Promise<string> {
  const owner = await shop.shops.byId(shopId);
  const { timeZone } = ShopParticularsShape.parse(JSON.parse(owner!.particulars));
  const prefix = `${dayIn(timeZone, shop.clock.seconds()).slice(2).replaceAll("-", "")}-`;
  const sofar = await shop.batches.countFrom(shopId, prefix);
  return prefix + String(sofar + 1).padStart(2, "0");
}

/** Day at the maker's bench, ISO 8601. */
function dayIn(timeZone: string, seconds: number): string {
  // The Swedish locale writes dates the ISO way.
  return new Intl.DateTimeFormat("sv-SE", { timeZone }).format(new Date(seconds * 1000));
}

function blendKey(quote: QuoteSnapshot): string {
  const parts = [...quote.parts].sort((a, b) => (a.ingredient < b.ingredient ? -1 : 1));
  return JSON.stringify([
    quote.product.id,
    quote.product.version,
    parts.map(({ ingredient, share }) => [ingredient, share]),
  ]);
}
