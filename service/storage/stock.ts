/**
 * Stock as a ledger: every gram that comes or goes is a movement, and a lot's amount on hand is kept in step with its
 * movements in one transaction. A movement is never changed or deleted; it is undone by another.
 */
import { batches, lots, people, shops, stockMovements } from "#data/schema.ts";
import { and, asc, desc, eq, gt, gte, isNull, or, sql } from "drizzle-orm";
import { type Database, type Statement, mustHaveChanged, mustHold } from "./database.ts";

export type LotRow = typeof lots.$inferSelect;
export type MovementRow = typeof stockMovements.$inferSelect;
export type NewMovement = Omit<MovementRow, "id">;

export interface LedgerLine extends MovementRow {
  readonly person: string | null;
  readonly batchNumber: string | null;
}

/** A part of what is needed, and the lot to take it from. */
export interface Portion {
  readonly lot: LotRow;
  readonly takeMg: number;
}

export interface Suggestion {
  /** First expired first. */
  readonly portions: readonly Portion[];
  /** What no lot can give [mg]; 0 when there is enough. */
  readonly shortMg: number;
}

export type Stock = ReturnType<typeof stockIn>;

export function stockIn(db: Database) {
  const { q } = db;
  /** Lots that may be taken from on a day, those that keep least long first and those without a date last. */
  const usable = (shopId: string, ingredientId: string, onDay: string) =>
    q
      .select()
      .from(lots)
      .where(
        and(
          eq(lots.shopId, shopId),
          eq(lots.ingredientId, ingredientId),
          gt(lots.onHandMg, 0),
          isNull(lots.blockedBecause),
          isNull(lots.archivedAt),
          or(isNull(lots.bestBefore), gte(lots.bestBefore, onDay)),
        ),
      )
      .orderBy(
        sql`${lots.bestBefore} is null`,
        asc(lots.bestBefore),
        asc(lots.receivedOn),
        lots.id,
      );

  /** A price may be made from lots in stock, so it is old once a lot has run out or has come. */
  const costsMayHaveMoved = (lotId: string, deltaMg: number): Statement =>
    q
      .update(shops)
      .set({ costsRevision: sql`${shops.costsRevision} + 1` })
      .where(
        sql`${shops.id} = (select ${lots.shopId} from ${lots} where ${lots.id} = ${lotId}
          and (${lots.onHandMg} = 0 or ${lots.onHandMg} = ${deltaMg}))`,
      );

  const stock = {
    /**
     * What moves stock, for an atomic list: the movement and the lot's new amount. The whole list fails with StockShort
     * when the lot would go below nothing, and with Conflict when there is no such lot.
     * @throws RangeError when the amount is no whole number of milligrams
     */
    movementStatements: (movement: NewMovement): Statement[] => {
      const { lotId, deltaMg } = movement;
      if (!Number.isSafeInteger(deltaMg)) throw new RangeError(`no whole milligrams: ${deltaMg}`);
      return [
        q.insert(stockMovements).values(movement),
        q
          .update(lots)
          .set({ onHandMg: sql`${lots.onHandMg} + ${deltaMg}` })
          .where(eq(lots.id, lotId)),
        ...mustHaveChanged(q),
        costsMayHaveMoved(lotId, deltaMg),
      ];
    },

    /**
     * Record a movement on what somebody saw: Conflict when the lot has moved since.
     * @param lastSeen number of the newest movement on the page they looked at; 0 for none
     */
    record: async (movement: NewMovement, lastSeen: number): Promise<void> => {
      const latest = sql<number>`(select coalesce(max(${stockMovements.id}), 0) = ${lastSeen}
        from ${stockMovements} where ${stockMovements.lotId} = ${movement.lotId})`;
      await db.atomic([...mustHold(q, latest), ...stock.movementStatements(movement)]);
    },

    /**
     * Which lots to take from, first expired first: never from one that is blocked, put away or past its best-before.
     * @param needMg how much is needed [mg]
     * @param onDay day it is taken, ISO; a lot may still be taken on its best-before day
     * @param kept what is to come from certain lots before any other, by their ids [mg]
     */
    suggest: async (
      shopId: string,
      ingredientId: string,
      needMg: number,
      onDay: string,
      kept: ReadonlyMap<string, number> = new Map(),
    ): Promise<Suggestion> => {
      let shortMg = needMg;
      const take = (mg: number) => {
        const takeMg = Math.max(0, Math.min(shortMg, mg));
        shortMg -= takeMg;
        return takeMg;
      };
      const there = await usable(shopId, ingredientId, onDay);
      const keptMg = there.map(({ id, onHandMg }) => take(Math.min(kept.get(id) ?? 0, onHandMg)));
      const portions = there.map((lot, at) => ({
        lot,
        takeMg: keptMg[at]! + take(lot.onHandMg - keptMg[at]!),
      }));
      return { portions: portions.filter(({ takeMg }) => takeMg > 0), shortMg };
    },

    /** Movements of a lot, the newest first, with who made them and the batch they belong to. */
    movements: async (lotId: string, most: number): Promise<LedgerLine[]> => {
      const rows = await q
        .select({ movement: stockMovements, person: people.name, batchNumber: batches.number })
        .from(stockMovements)
        .leftJoin(people, eq(people.id, stockMovements.personId))
        .leftJoin(batches, eq(batches.id, stockMovements.batchId))
        .where(eq(stockMovements.lotId, lotId))
        .orderBy(desc(stockMovements.id))
        .limit(most);
      return rows.map(({ movement, ...rest }) => ({ ...movement, ...rest }));
    },
  };
  return stock;
}
