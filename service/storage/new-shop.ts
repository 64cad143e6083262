/**
 * Puts an empty shop into an empty database; a database with a shop in it is left alone.
 */
import { shops } from "#data/schema.ts";
import type { OwnShop } from "../own-shop.ts";
import type { Database } from "./database.ts";

/** @returns whether it was written */
export async function createShop({ q, atomic }: Database, shop: OwnShop): Promise<boolean> {
  const [standing] = await q.select({ id: shops.id }).from(shops).limit(1);
  if (standing) return false;
  const particulars = JSON.stringify(shop.particulars);
  await atomic([q.insert(shops).values({ ...shop, particulars })]);
  return true;
}
