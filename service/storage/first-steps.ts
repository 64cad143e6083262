/**
 * How far a shop has come before its first batch: whether there is one of each thing, never how many there are in all.
 */
import {
  batches,
  ingredients,
  orders,
  passkeys,
  people,
  productDrafts,
  products,
} from "#data/schema.ts";
import { type SQL, and, eq, isNotNull, isNull, sql } from "drizzle-orm";
import type { Database } from "./database.ts";

/** A count of ingredients stops here. */
export const SHELF_COUNT_MOST = 50;

/** The product that is nearest to being sold. */
export interface LeadingProduct {
  readonly id: string;
  readonly name: string;
  readonly forSale: boolean;
  readonly hasBase: boolean;
  /** The maker has saved its price sheet. */
  readonly priced: boolean;
}

export interface FirstThings {
  readonly hasPasskey: boolean;
  readonly hasCode: boolean;
  /** With a price and without, each counted to SHELF_COUNT_MOST. */
  readonly priced: number;
  readonly unpriced: number;
  readonly product: LeadingProduct | undefined;
  readonly hasOrder: boolean;
  /** Number of the first batch of orders that is on the bench. */
  readonly openBatch: string | undefined;
}

export function firstStepsIn({ q }: Database) {
  const yes = (condition: SQL) => sql<boolean>`${condition}`.mapWith(Boolean);
  const shelf = async (shopId: string, price: SQL | undefined) => {
    const some = q
      .select({ id: ingredients.id })
      .from(ingredients)
      .where(and(eq(ingredients.shopId, shopId), isNull(ingredients.archivedAt), price))
      .limit(SHELF_COUNT_MOST + 1)
      .as("some");
    return (await q.select({ n: sql<number>`count(*)` }).from(some))[0]?.n ?? 0;
  };
  const anyBatch = async (shopId: string, state: "open" | "made") =>
    (
      await q
        .select({ number: batches.number })
        .from(batches)
        .where(
          and(eq(batches.shopId, shopId), eq(batches.state, state), eq(batches.kind, "orders")),
        )
        .limit(1)
    )[0]?.number;

  /** What is for sale first, then what has a base, then what was begun first. */
  const leading = async (shopId: string): Promise<LeadingProduct | undefined> => {
    const forSale = isNotNull(products.publishedVersion);
    const document = productDrafts.document;
    const hasBase = sql`(${forSale} or coalesce(json_array_length(${document}, '$.product.bases'), 0) > 0)`;
    const staged = sql`exists (select 1 from json_each(${document}, '$.stage') as sheet
      where sheet.value = 'price')`;
    const isPriced = sql`(${forSale} or coalesce(${staged}, 0))`;
    const rows = await q
      .select({
        id: products.id,
        name: products.name,
        forSale: yes(forSale),
        hasBase: yes(hasBase),
        priced: yes(isPriced),
      })
      .from(products)
      .leftJoin(productDrafts, eq(productDrafts.productId, products.id))
      .where(and(eq(products.shopId, shopId), isNull(products.archivedAt)))
      .orderBy(sql`${forSale} desc`, sql`${hasBase} desc`, products.id)
      .limit(1);
    return rows[0];
  };

  return {
    /** Whether a batch of orders was ever made: from then on the shop needs no first steps. */
    isUnderWay: async (shopId: string): Promise<boolean> =>
      (await anyBatch(shopId, "made")) !== undefined,

    of: async (shopId: string, personId: string | null): Promise<FirstThings> => {
      const [door, priced, unpriced, product, order, openBatch] = await Promise.all([
        q
          .select({
            hasCode: yes(isNotNull(people.recoveryHash)),
            hasPasskey: yes(sql`exists (select 1 from ${passkeys}
              where ${passkeys.personId} = ${people.id} and ${passkeys.removedAt} is null)`),
          })
          .from(people)
          .where(and(eq(people.shopId, shopId), eq(people.id, personId ?? ""))),
        shelf(shopId, isNotNull(ingredients.packMinor)),
        shelf(shopId, isNull(ingredients.packMinor)),
        leading(shopId),
        q.select({ id: orders.id }).from(orders).where(eq(orders.shopId, shopId)).limit(1),
        anyBatch(shopId, "open"),
      ]);
      return {
        hasPasskey: door[0]?.hasPasskey ?? false,
        hasCode: door[0]?.hasCode ?? false,
        ...{ priced, unpriced, product, openBatch },
        hasOrder: order.length > 0,
      };
    },
  };
}
