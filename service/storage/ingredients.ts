/**
 * What the maker buys, as rows.
 */
import { ingredients } from "#data/schema.ts";
import { asc, eq } from "drizzle-orm";
import type { Database } from "./database.ts";

export type IngredientRow = typeof ingredients.$inferSelect;
export type Ingredients = ReturnType<typeof ingredientsIn>;

export function ingredientsIn({ q }: Database) {
  return {
    /** All of a shop's, those that were put away among them. */
    ofShop: async (shopId: string): Promise<IngredientRow[]> =>
      await q
        .select()
        .from(ingredients)
        .where(eq(ingredients.shopId, shopId))
        .orderBy(asc(ingredients.id)),
  };
}
