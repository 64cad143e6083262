/**
 * What the maker buys, as rows.
 */
import {
  ingredients,
  lots,
  productDrafts,
  productVersions,
  products,
  shops,
} from "#data/schema.ts";
import { type SQL, and, asc, eq, gt, inArray, isNotNull, isNull, or, sql } from "drizzle-orm";
import { type Database, type Query, type Statement, mustHaveChanged } from "./database.ts";
import { IDS_MOST, inPages } from "./in-pages.ts";
import { holdsWords } from "./words-inside.ts";

export type IngredientRow = typeof ingredients.$inferSelect;
export type NewIngredient = typeof ingredients.$inferInsert;
export type Ingredients = ReturnType<typeof ingredientsIn>;

/** A row of the list, with what its lots hold. */
export interface ListedIngredient {
  readonly row: IngredientRow;
  /** In all lots that are not put away [mg] */
  readonly onHandMg: number;
  /** Of it, what may be taken on the day asked for: not blocked, not past its date [mg] */
  readonly usableMg: number;
  /** Of the usable lots. */
  readonly nextBestBefore: string | null;
}

/** A product that names an ingredient, and where. */
export interface ProductUse {
  readonly id: string;
  readonly name: string;
  readonly published: boolean;
  readonly draft: boolean;
}

export interface IngredientSearch {
  /** In the maker's own name, the id or the supplier; empty finds all. */
  readonly words: string;
  /** Ingredients of the library that the words mean, too. */
  readonly libraryIds: readonly string[];
  /** Id of the last row of the page before; empty begins. */
  readonly after: string;
  readonly putAway: boolean;
  readonly onDay: string;
}

/** Marks what is reckoned from costs, names or dose caps as old. */
export function raiseCosts(q: Query, shopId: string): Statement {
  return q
    .update(shops)
    .set({ costsRevision: sql`${shops.costsRevision} + 1` })
    .where(eq(shops.id, shopId));
}

export function ingredientsIn(db: Database) {
  const { q } = db;
  const own = (shopId: string, id: string) =>
    and(eq(ingredients.shopId, shopId), eq(ingredients.id, id));

  return {
    /** All of a shop's, those that were put away among them. */
    ofShop: async (shopId: string): Promise<IngredientRow[]> =>
      await q
        .select()
        .from(ingredients)
        .where(eq(ingredients.shopId, shopId))
        .orderBy(asc(ingredients.id)),

    /** Those of the ids that the shop has, put away or not. */
    byIds: async (shopId: string, ids: readonly string[]): Promise<IngredientRow[]> => {
      const rows = inPages(ids).map((page) =>
        q
          .select()
          .from(ingredients)
          .where(and(eq(ingredients.shopId, shopId), inArray(ingredients.id, page))),
      );
      return (await Promise.all(rows)).flat();
    },

    byId: async (shopId: string, id: string): Promise<IngredientRow | undefined> =>
      (await q.select().from(ingredients).where(own(shopId, id)))[0],

    /** Rows in order of id, with what stands of each on the shelf. */
    page: async (shopId: string, search: IngredientSearch, most: number) => {
      const rows = q
        .select({ row: ingredients, ...stockColumns(search.onDay) })
        .from(ingredients)
        .where(
          and(
            eq(ingredients.shopId, shopId),
            gt(ingredients.id, search.after),
            search.putAway ? isNotNull(ingredients.archivedAt) : isNull(ingredients.archivedAt),
            found(search),
          ),
        )
        .orderBy(asc(ingredients.id))
        .limit(most);
      return (await rows) as ListedIngredient[];
    },

    /** Those that ran out, those without a price, and those of which less is usable than their low-stock level. */
    inNeed: async (shopId: string, onDay: string, most: number) => {
      const columns = stockColumns(onDay);
      const here = and(eq(ingredients.shopId, shopId), isNull(ingredients.archivedAt));
      const select = () => q.select({ row: ingredients, ...columns }).from(ingredients);
      const [ranOut, unpriced, low] = await Promise.all([
        select()
          .where(and(here, isNotNull(ingredients.ranOutAt)))
          .orderBy(asc(ingredients.id))
          .limit(most),
        select()
          .where(and(here, isNull(ingredients.packMinor)))
          .orderBy(asc(ingredients.id))
          .limit(most),
        select()
          .where(and(here, sql`${columns.usableMg} < ${ingredients.lowBelowMg}`))
          .orderBy(asc(ingredients.id))
          .limit(most),
      ]);
      return { ranOut, unpriced, low } as Record<"ranOut" | "unpriced" | "low", ListedIngredient[]>;
    },

    /** Names of products whose published version or draft names an ingredient. */
    usedBy: async (shopId: string, id: string): Promise<ProductUse[]> => {
      const names = (document: SQL) => sql<number>`instr(${document}, ${JSON.stringify(id)}) > 0`;
      const published = sql`coalesce(${productVersions.product}, '')`;
      const draft = sql`coalesce(${productDrafts.document}, '')`;
      const rows = await q
        .select({
          id: products.id,
          name: products.name,
          published: names(published),
          draft: names(draft),
        })
        .from(products)
        .leftJoin(
          productVersions,
          and(
            eq(productVersions.productId, products.id),
            eq(productVersions.version, products.publishedVersion),
          ),
        )
        .leftJoin(productDrafts, eq(productDrafts.productId, products.id))
        .where(
          and(
            eq(products.shopId, shopId),
            isNull(products.archivedAt),
            sql`(${names(published)} or ${names(draft)})`,
          ),
        )
        .orderBy(asc(products.name));
      return rows.map(({ published, draft, ...rest }) => ({
        ...rest,
        published: published === 1,
        draft: draft === 1,
      }));
    },

    /** Conflict when the id is taken. */
    create: async (row: NewIngredient): Promise<void> =>
      await db.atomic([q.insert(ingredients).values(row), raiseCosts(q, row.shopId)]),

    /** All of them or none; Conflict when an id is taken. */
    createAll: async (shopId: string, rows: readonly NewIngredient[]): Promise<void> =>
      await db.atomic([
        ...rows.map((row) => q.insert(ingredients).values(row)),
        raiseCosts(q, shopId),
      ]),

    /**
     * Save what was edited.
     * @param change the row's own columns
     * @param since revision that was edited; Conflict when it is no longer the stored one
     */
    save: async (
      shopId: string,
      id: string,
      change: Partial<IngredientRow>,
      since: number,
    ): Promise<void> =>
      await db.atomic([
        q
          .update(ingredients)
          .set({ ...change, revision: since + 1 })
          .where(and(own(shopId, id), eq(ingredients.revision, since))),
        ...mustHaveChanged(q),
        raiseCosts(q, shopId),
      ]),
  };
}

/** What the lots of an ingredient hold; the index by ingredient answers each. */
function stockColumns(onDay: string) {
  const ofThis = sql`from ${lots} where ${lots.shopId} = ${ingredients.shopId}
    and ${lots.ingredientId} = ${ingredients.id} and ${lots.archivedAt} is null
    and ${lots.onHandMg} > 0`;
  const usable = sql`and ${lots.blockedBecause} is null
    and (${lots.bestBefore} is null or ${lots.bestBefore} >= ${onDay})`;
  return {
    onHandMg: sql<number>`(select coalesce(sum(${lots.onHandMg}), 0) ${ofThis})`,
    usableMg: sql<number>`(select coalesce(sum(${lots.onHandMg}), 0) ${ofThis} ${usable})`,
    nextBestBefore: sql<string | null>`(select min(${lots.bestBefore}) ${ofThis} ${usable})`,
  };
}

function found({ words, libraryIds }: IngredientSearch): SQL | undefined {
  if (words === "") return undefined;
  const { id, name, supplier, libraryId } = ingredients;
  return or(
    ...[id, name, supplier].map((column) => holdsWords(column, words)),
    inArray(libraryId, libraryIds.slice(0, IDS_MOST)),
  );
}
