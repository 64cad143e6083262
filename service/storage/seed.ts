/**
 * Puts the demo shop into an empty database; a database with a shop in it is left alone.
 */
import { ingredients, productVersions, products, shops } from "#data/schema.ts";
import { DEMO_COSTS, DEMO_PRODUCTS, DEMO_SHOP } from "#data/seeds/demo.ts";
import { type Database, type Statement } from "./database.ts";

/**
 * @param publishedAt when the demo products count as published [s since 1970]
 * @returns whether anything was written
 */
export async function seedDemo({ q, atomic }: Database, publishedAt: number): Promise<boolean> {
  const [standing] = await q.select({ id: shops.id }).from(shops).limit(1);
  if (standing) return false;
  const shopId = DEMO_SHOP.id;
  const particulars = JSON.stringify(DEMO_SHOP.particulars);
  const statements: Statement[] = [q.insert(shops).values({ ...DEMO_SHOP, particulars })];
  for (const { product, pricePolicy } of DEMO_PRODUCTS) {
    statements.push(
      q
        .insert(products)
        .values({ id: product.id, shopId, name: product.name, publishedVersion: 1 }),
      q.insert(productVersions).values({
        productId: product.id,
        version: 1,
        product: JSON.stringify(product),
        pricePolicy: JSON.stringify(pricePolicy),
        publishedAt,
      }),
    );
  }
  for (const [ingredientId, cost] of Object.entries(DEMO_COSTS)) {
    const row = { shopId, id: ingredientId, libraryId: ingredientId, name: "", ...cost };
    const rest = { packText: `${cost.packMg / 1000} g`, supplier: "Invented supplier" };
    const bare = { refined: "not-told" as const, scent: "", note: "" };
    statements.push(q.insert(ingredients).values({ ...row, ...rest, ...bare }));
  }
  await atomic(statements);
  return true;
}
