/**
 * The shop before its doors open: the demo with a full shelf, a host shop that listens, and the key it orders by.
 */
import { DEMO_INGREDIENTS } from "#data/seeds/demo-shelf.ts";
import { hashToken, randomNumbers } from "#service/numbers.ts";
import { apiKeysIn } from "#service/storage/api-keys.ts";
import { eventEndpointsIn } from "#service/storage/event-endpoints.ts";
import { lotsIn } from "#service/storage/lots.ts";
import { type NodeDatabase, openNodeDatabase } from "#service/storage/node-database.ts";
import { seedDemo } from "#service/storage/seed.ts";

export const SHOP = "quillfen";
/** Of each ingredient, so that no run is long enough to use it up [mg] */
const ON_SHELF_MG = 20_000_000_000;

/** @returns the key of the host shop */
export async function makeShopFile(
  file: string,
  migrations: string,
  events: { readonly url: string; readonly secret: string },
): Promise<string> {
  const db = openNodeDatabase(file, migrations);
  const createdAt = Math.floor(Date.now() / 1000);
  await seedDemo(db, createdAt);
  await eventEndpointsIn(db).add({ id: "host", shopId: SHOP, createdAt, ...events });
  await fillShelf(db, createdAt);
  const key = `softset_${randomNumbers.token()}`;
  const secretHash = await hashToken(key);
  await apiKeysIn(db).add({ id: "host", shopId: SHOP, name: "Host", createdAt, secretHash });
  db.close();
  return key;
}

async function fillShelf(db: NodeDatabase, at: number): Promise<void> {
  const receivedOn = new Date(at * 1000).toISOString().slice(0, 10);
  for (const { id: ingredientId, supplier } of DEMO_INGREDIENTS) {
    await lotsIn(db).receive(
      {
        ...{ id: `load-${ingredientId}`, shopId: SHOP, ingredientId, code: "LOAD", supplier },
        ...{ receivedMg: ON_SHELF_MG, receivedOn, bestBefore: null, costMinor: null, note: "" },
        ...{ certificate: null, blockedBecause: null, archivedAt: null, revision: 1 },
      },
      { at, personId: null },
    );
  }
}
