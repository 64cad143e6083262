/**
 * A product with everything its pages ask for.
 */
import type { Shop } from "../ports.ts";
import { Refusal } from "../problem.ts";
import { PricePolicyShape, ProductShape } from "../shapes.ts";
import type { StoredDraft } from "../storage/drafts.ts";
import type { ProductRow } from "../storage/products.ts";
import type { ShopRow } from "../storage/shops.ts";
import type { Desk, Desks } from "./desk.ts";
import { type Documents, differencesOf } from "./differences.ts";
import { type Obstacle, obstaclesOf } from "./readiness.ts";
import { shipDayAt } from "./season.ts";
import { openDraft } from "./write-draft.ts";

export interface OpenProduct {
  readonly row: ProductRow;
  readonly stored: StoredDraft;
  readonly desk: Desk;
  /** ISO day a parcel leaves that is ordered now. */
  readonly shipDay: string;
  readonly obstacles: readonly Obstacle[];
  /** The version for sale, or else the latest there is. */
  readonly version?: {
    readonly number: number;
    readonly publishedAt: number;
    readonly differences: readonly string[];
  };
}

/** @throws Refusal compose.product.unknown */
export async function openProduct(
  shop: Shop,
  desks: Desks,
  owner: ShopRow,
  id: string,
): Promise<OpenProduct> {
  const shopId = owner.id;
  const [row, stored, desk] = await Promise.all([
    shop.products.byId(shopId, id),
    openDraft(shop, shopId, id),
    desks(owner),
  ]);
  const shipDay = shipDayAt(desk.particulars, shop.clock.seconds());
  const obstacles = obstaclesOf(stored.document, desk);
  const number = row!.publishedVersion ?? (await shop.products.versions(id, 1))[0]?.version;
  if (number === undefined) return { row: row!, stored, desk, shipDay, obstacles };
  const published = await openVersion(shop, shopId, id, number);
  const differences = differencesOf(published, stored.document, desk);
  const version = { number, publishedAt: published.publishedAt, differences };
  return { row: row!, stored, desk, shipDay, obstacles, version };
}

/** @throws Refusal compose.version.unknown */
export async function openVersion(
  shop: Shop,
  shopId: string,
  id: string,
  number: number,
): Promise<Documents & { readonly publishedAt: number; readonly room: string | null }> {
  const row = Number.isSafeInteger(number)
    ? await shop.products.version(shopId, id, number)
    : undefined;
  if (!row) throw new Refusal("compose.version.unknown", "There is no such version of it.");
  return {
    product: ProductShape.parse(JSON.parse(row.product)),
    pricePolicy: PricePolicyShape.parse(JSON.parse(row.pricePolicy)),
    publishedAt: row.publishedAt,
    room: row.room,
  };
}
