/**
 * Writes gathered into one commit: each caller waits for its own row, and a bad row spoils no other.
 */
import { sql } from "drizzle-orm";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { musts, signInLinks } from "#data/schema.ts";
import { gatherWrites } from "#service/storage/gather.ts";
import { type NodeDatabase, openNodeDatabase } from "#service/storage/node-database.ts";
import { seedDemo } from "#service/storage/seed.ts";
import { MIGRATIONS, freshFile } from "../../helpers/shop.ts";

let db: NodeDatabase;
let commits: number;
let write: ReturnType<typeof gatherWrites>;
beforeEach(async () => {
  db = openNodeDatabase(freshFile(), MIGRATIONS);
  await seedDemo(db, 1);
  commits = 0;
  const counted: NodeDatabase["atomic"] = (list) => {
    commits += 1;
    return db.atomic(list);
  };
  write = gatherWrites(counted, () => new Promise((resolve) => setTimeout(resolve, 0)));
});
afterEach(() => db.close());

const link = (tokenHash: string) =>
  db.q.insert(signInLinks).values({ tokenHash, shopId: "quillfen", expiresAt: 1 });
const count = async () => (await db.q.select({ n: sql<number>`count(*)` }).from(signInLinks))[0]!.n;

describe("gathered writes", () => {
  it("commit thirty rows at once", async () => {
    await Promise.all(Array.from({ length: 30 }, (_, at) => write(link(`a${at}`))));
    expect([await count(), commits]).toEqual([30, 1]);
  });

  it("are safe when the caller is told so, one after the other too", async () => {
    await write(link("one"));
    expect(await count()).toBe(1);
    await write(link("two"));
    expect([await count(), commits]).toEqual([2, 2]);
  });

  it("take at most fifty in one commit", async () => {
    await Promise.all(Array.from({ length: 120 }, (_, at) => write(link(`b${at}`))));
    expect([await count(), commits]).toEqual([120, 3]);
  });

  it("fail alone: the rows beside a bad one are stored", async () => {
    const bad = write(db.q.insert(musts).values({ ok: 0 }));
    const good = [write(link("left")), write(link("right"))];
    await expect(bad).rejects.toThrow();
    await Promise.all(good);
    expect(await count()).toBe(2);
    await write(link("after"));
    expect(await count()).toBe(3);
  });
});
