/**
 * Lots as they arrived. What is left of one changes by movements only (`stock.ts`).
 */
import { batchLots, batches, ingredients, lots } from "#data/schema.ts";
import { type SQL, and, asc, desc, eq, gte, isNotNull, isNull, lt, lte, sql } from "drizzle-orm";
import { type Database, mustHaveChanged } from "./database.ts";
import { raiseCosts } from "./ingredients.ts";
import { type LotRow, stockIn } from "./stock.ts";

export type { LotRow } from "./stock.ts";
export type Lots = ReturnType<typeof lotsIn>;

/** A lot and whose it is. */
export interface LotWithIngredient {
  readonly lot: LotRow;
  readonly libraryId: string;
  readonly name: string;
}

export interface LotUse {
  readonly number: string;
  readonly run: number;
  readonly usedMg: number;
  readonly issuedAt: number;
}

export function lotsIn(db: Database) {
  const { q } = db;
  const stock = stockIn(db);
  const own = (shopId: string, id: string) => and(eq(lots.shopId, shopId), eq(lots.id, id));

  /** Lots on hand; the condition is written so that the partial index serves it. */
  const onHand = (shopId: string, more: SQL | undefined, most: number) =>
    q
      .select({ lot: lots, libraryId: ingredients.libraryId, name: ingredients.name })
      .from(lots)
      .innerJoin(
        ingredients,
        and(eq(ingredients.shopId, lots.shopId), eq(ingredients.id, lots.ingredientId)),
      )
      .where(and(eq(lots.shopId, shopId), sql`${lots.onHandMg} > 0`, isNull(lots.archivedAt), more))
      .orderBy(asc(lots.bestBefore), asc(lots.id))
      .limit(most);

  return {
    byId: async (shopId: string, id: string): Promise<LotRow | undefined> =>
      (await q.select().from(lots).where(own(shopId, id)))[0],

    /** Lots of a shop, for a file; those put away among them. */
    ofShop: async (shopId: string): Promise<LotRow[]> =>
      await q
        .select()
        .from(lots)
        .where(eq(lots.shopId, shopId))
        .orderBy(asc(lots.ingredientId), asc(lots.code)),

    /** Lots of one ingredient that still hold something, first expired first. */
    onShelf: async (shopId: string, ingredientId: string, most: number): Promise<LotRow[]> =>
      await q
        .select()
        .from(lots)
        .where(
          and(
            eq(lots.shopId, shopId),
            eq(lots.ingredientId, ingredientId),
            isNull(lots.archivedAt),
            sql`${lots.onHandMg} > 0`,
          ),
        )
        .orderBy(sql`${lots.bestBefore} is null`, asc(lots.bestBefore), asc(lots.receivedOn))
        .limit(most),

    /** Lots of one ingredient that are used up or put away, the last received first. */
    gone: async (shopId: string, ingredientId: string, most: number): Promise<LotRow[]> =>
      await q
        .select()
        .from(lots)
        .where(
          and(
            eq(lots.shopId, shopId),
            eq(lots.ingredientId, ingredientId),
            sql`(${lots.archivedAt} is not null or ${lots.onHandMg} = 0)`,
          ),
        )
        .orderBy(desc(lots.receivedOn), desc(lots.id))
        .limit(most),

    /**
     * Lots to look at: past their date, near it, or blocked.
     * @param today ISO day
     * @param until last day that counts as near
     */
    inNeed: async (shopId: string, today: string, until: string, most: number) => {
      const good = isNull(lots.blockedBecause);
      const near = and(good, gte(lots.bestBefore, today), lte(lots.bestBefore, until));
      const [past, soon, blocked] = await Promise.all([
        onHand(shopId, and(good, lt(lots.bestBefore, today)), most),
        onHand(shopId, near, most),
        onHand(shopId, isNotNull(lots.blockedBecause), most),
      ]);
      return { past, soon, blocked } satisfies Record<string, LotWithIngredient[]>;
    },

    /** Batches a lot went into, the last first. */
    uses: async (lotId: string, most: number): Promise<LotUse[]> =>
      await q
        .select({
          number: batches.number,
          run: batchLots.run,
          usedMg: batchLots.usedMg,
          issuedAt: batches.issuedAt,
        })
        .from(batchLots)
        .innerJoin(batches, eq(batches.id, batchLots.batchId))
        .where(eq(batchLots.lotId, lotId))
        .orderBy(desc(batches.issuedAt), asc(batchLots.run))
        .limit(most),

    /**
     * Store what arrived, with its first movement.
     * @throws Conflict when the lot, or its code for this ingredient, is there already
     */
    receive: async (
      lot: Omit<LotRow, "onHandMg">,
      { at, personId }: { readonly at: number; readonly personId: string | null },
    ): Promise<void> => {
      const received = { lotId: lot.id, deltaMg: lot.receivedMg, why: "received" as const };
      await db.atomic([
        q.insert(lots).values({ ...lot, onHandMg: 0 }),
        ...stock.movementStatements({ ...received, at, personId, batchId: null, note: "" }),
      ]);
    },

    /**
     * Save what was edited, blocked or put away.
     * @param since revision that was looked at; Conflict when it is no longer the stored one
     */
    save: async (
      shopId: string,
      id: string,
      change: Partial<Omit<LotRow, "onHandMg">>,
      since: number,
    ): Promise<void> =>
      await db.atomic([
        q
          .update(lots)
          .set({ ...change, revision: since + 1 })
          .where(and(own(shopId, id), eq(lots.revision, since))),
        ...mustHaveChanged(q),
        raiseCosts(q, shopId),
      ]),
  };
}
