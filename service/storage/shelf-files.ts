/**
 * Rows of a table of ingredients or lots, written in chunks: each chunk whole or not at all, and nothing twice however
 * often it is sent. A row that somebody changed meanwhile is left as they left it.
 */
import { ingredients, lots, stockMovements } from "#data/schema.ts";
import { and, eq, sql } from "drizzle-orm";
import { chunksOf, given, givenRows, selectGiven } from "./bulk.ts";
import type { Database, Statement } from "./database.ts";
import { type NewIngredient, raiseCosts } from "./ingredients.ts";
import type { LotRow } from "./stock.ts";

export interface Moved {
  /** [s since 1970] */
  readonly at: number;
  readonly personId: string | null;
  readonly note: string;
}

const INGREDIENT_WORDS = [
  ...(["name", "supplier", "packText", "packMinor", "packMg"] as const),
  ...(["refined", "scent", "doseMostShare", "lowBelowMg", "note"] as const),
];
const LOT_WORDS = ["supplier", "receivedOn", "bestBefore", "costMinor", "note"] as const;

const setGiven = (keys: readonly string[]) =>
  Object.fromEntries(keys.map((key) => [key, given(key)]));

export function shelfFilesIn(db: Database) {
  const { q } = db;

  return {
    writeIngredients: async (
      shopId: string,
      fresh: readonly NewIngredient[],
      changed: readonly NewIngredient[],
    ): Promise<void> => {
      for (const { json } of chunksOf(fresh)) {
        const insert = q
          .insert(ingredients)
          .select(selectGiven(ingredients, json))
          .onConflictDoNothing() as unknown as Statement;
        await db.atomic([insert, raiseCosts(q, shopId)]);
      }
      for (const { json } of chunksOf(changed)) {
        const update = q
          .update(ingredients)
          .set({ ...setGiven(INGREDIENT_WORDS), revision: sql`${ingredients.revision} + 1` })
          .from(givenRows(json))
          .where(
            and(
              eq(ingredients.shopId, shopId),
              eq(ingredients.id, given("id")),
              eq(ingredients.revision, given("revision")),
            ),
          ) as unknown as Statement;
        await db.atomic([update, raiseCosts(q, shopId)]);
      }
    },

    /** New lots come with a movement "received"; a lot counted otherwise than it stands gets a movement "count". */
    writeLots: async (
      shopId: string,
      fresh: readonly LotRow[],
      changed: readonly LotRow[],
      moved: Moved,
    ): Promise<void> => {
      for (const { json } of chunksOf(fresh)) {
        const insert = q.insert(lots).select(selectGiven(lots, json)).onConflictDoNothing();
        await db.atomic([
          insert as unknown as Statement,
          ...receivedMovements(json, moved),
          raiseCosts(q, shopId),
        ]);
      }
      for (const { json } of chunksOf(changed)) {
        const same = and(
          eq(lots.shopId, shopId),
          eq(lots.id, given("id")),
          eq(lots.revision, given("revision")),
        );
        const counted = sql`select null, ${lots.id}, ${moved.at},
            ${given("onHandMg")} - ${lots.onHandMg}, 'count', null, ${moved.personId}, ${moved.note}
          from ${givenRows(json)} join ${lots} on ${same}
          where ${lots.onHandMg} <> ${given("onHandMg")}`;
        const update = q
          .update(lots)
          .set({
            ...setGiven([...LOT_WORDS, "onHandMg"]),
            revision: sql`${lots.revision} + 1`,
          })
          .from(givenRows(json))
          .where(same) as unknown as Statement;
        await db.atomic([
          q.insert(stockMovements).select(counted) as unknown as Statement,
          update,
          raiseCosts(q, shopId),
        ]);
      }
    },
  };

  /** Of lots that have no movement yet: those this list has just written. */
  function receivedMovements(json: string, { at, personId, note }: Moved): Statement[] {
    const unmoved = sql`not exists (select 1 from ${stockMovements}
      where ${stockMovements.lotId} = ${lots.id})`;
    const received = sql`select null, ${lots.id}, ${at}, ${lots.receivedMg}, 'received', null,
        ${personId}, ${note}
      from ${givenRows(json)} join ${lots} on ${lots.id} = ${given("id")} where ${unmoved}`;
    const taken = sql`(select count(*) from ${stockMovements}
      where ${stockMovements.lotId} = ${lots.id})`;
    const counted = sql`select null, ${lots.id}, ${at}, ${lots.onHandMg} - ${lots.receivedMg},
        'count', null, ${personId}, ${note}
      from ${givenRows(json)} join ${lots} on ${lots.id} = ${given("id")}
      where ${lots.onHandMg} <> ${lots.receivedMg} and ${taken} = 1`;
    return [received, counted].map(
      (rows) => q.insert(stockMovements).select(rows) as unknown as Statement,
    );
  }
}
