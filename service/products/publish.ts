/**
 * A draft becomes a version: only when every sheet is whole and every base can be ordered, and by one hand at a time.
 */
import { ingredientsOf } from "#core/compose/product.ts";
import type { Shop } from "../ports.ts";
import { type PricesAtPublishing, pricesAtPublishing } from "../prices/at-publishing.ts";
import { materialCosts } from "../prices/material-costs.ts";
import { PricePolicyShape, ProductShape } from "../shapes.ts";
import { Conflict } from "../storage/database.ts";
import type { OpenProduct } from "./open-product.ts";
import type { Obstacle } from "./readiness.ts";
import { roomSummary, shutDoors } from "./room-words.ts";
import type { Rooms } from "./rooms.ts";
import type { Author } from "./write-draft.ts";
import { type ShutMonths, sayShut, shutKey } from "./year.ts";

export type Published =
  | { readonly version: number }
  | { readonly obstacles: readonly Obstacle[] }
  /** Months in which a base cannot be ordered, and nobody ticked that they know. */
  | { readonly shut: readonly ShutMonths[] }
  /** Somebody saved or published meanwhile. */
  | { readonly late: true };

/**
 * Publish a draft.
 * @param seen revision of the draft and number of the version to come, as the maker saw them, and which months without
 * an orderable blend they ticked off (`shutKey`)
 */
export async function publishDraft(
  shop: Shop,
  rooms: Rooms,
  open: OpenProduct,
  seen: { readonly since: number; readonly version: number; readonly ticked: string },
  { shopId, personId }: Author,
): Promise<Published> {
  const { stored, desk, row } = open;
  const { product, pricePolicy } = stored.document;
  const { since, version } = seen;
  if (since !== stored.revision || since === 0 || row.archivedAt !== null) return { late: true };
  if (open.obstacles.length > 0) return { obstacles: open.obstacles };
  const report = await rooms.measure(open);
  const obstacles = shutDoors(report, product, desk);
  if (obstacles.length > 0) return { obstacles };
  const shut = rooms.year(open);
  if (shutKey(shut) !== seen.ticked) return { shut };
  const costs = await materialCosts(shop, shopId, pricePolicy, desk.costs, ingredientsOf(product));
  const prices = pricesAtPublishing(product, pricePolicy, costs, desk.ingredientOf);
  const [latest] = await shop.products.versions(product.id, 1);
  if (version !== (latest?.version ?? 0) + 1) return { late: true };
  try {
    await shop.products.publish({
      ...{ shopId, productId: product.id, since, version, personId },
      product: JSON.stringify(ProductShape.parse(product)),
      pricePolicy: JSON.stringify(PricePolicyShape.parse(pricePolicy)),
      room: JSON.stringify(
        roomRecord(open, [...roomSummary(report, product, desk), ...shut.map(sayShut)], prices),
      ),
      at: shop.clock.seconds(),
    });
  } catch (error) {
    if (!(error instanceof Conflict)) throw error;
    return { late: true };
  }
  return { version };
}

/** What a version keeps of its room. */
export interface RoomRecord {
  /** ISO day whose season it was measured for. */
  readonly shipDay: string;
  readonly sentences: readonly string[];
  /** What jars sold for and earned, so that a fall since then can be told. */
  readonly prices: PricesAtPublishing;
}

function roomRecord(
  { shipDay }: OpenProduct,
  sentences: readonly string[],
  prices: PricesAtPublishing,
): RoomRecord {
  return { shipDay, sentences, prices };
}
