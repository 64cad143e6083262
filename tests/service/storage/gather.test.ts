/**
 * Lists gathered into one commit: each caller waits for its own, and a bad one spoils no other.
 */
import { sql } from "drizzle-orm";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { musts, signInLinks } from "#data/schema.ts";
import { Conflict } from "#service/storage/database.ts";
import { gatherLists } from "#service/storage/gather.ts";
import { type NodeDatabase, openNodeDatabase } from "#service/storage/node-database.ts";
import { seedDemo } from "#service/storage/seed.ts";
import { MIGRATIONS, freshFile } from "../../helpers/shop.ts";

const nextTurn = () => new Promise<void>((resolve) => setTimeout(resolve, 0));

describe("gathered lists", () => {
  let groups: number[][];
  const gathered = () =>
    gatherLists((lists: readonly number[]) => {
      groups.push([...lists]);
      if (lists.includes(-2)) throw new Error("disk full");
      return lists.map((list) => (list < 0 ? new Error("bad") : undefined));
    }, nextTurn);
  beforeEach(() => {
    groups = [];
  });

  it("of thirty callers go in one commit, in their order", async () => {
    const write = gathered();
    await Promise.all(Array.from({ length: 30 }, (_, at) => write(at)));
    expect(groups).toEqual([Array.from({ length: 30 }, (_, at) => at)]);
  });

  it("of one caller after the other go in one each", async () => {
    const write = gathered();
    await write(1);
    await write(2);
    expect(groups).toEqual([[1], [2]]);
  });

  it("are at most fifty in one commit", async () => {
    const write = gathered();
    await Promise.all(Array.from({ length: 120 }, (_, at) => write(at)));
    expect(groups.map(({ length }) => length)).toEqual([50, 50, 20]);
  });

  it("all fail when the commit does, and the next one goes on", async () => {
    const write = gathered();
    const both = await Promise.allSettled([write(1), write(-2)]);
    expect(both.map(({ status }) => status)).toEqual(["rejected", "rejected"]);
    await write(3);
    expect(groups.at(-1)).toEqual([3]);
  });
});

describe("lists that come together", () => {
  let db: NodeDatabase;
  beforeEach(async () => {
    db = openNodeDatabase(freshFile(), MIGRATIONS);
    await seedDemo(db, 1);
  });
  afterEach(() => db.close());

  const link = (tokenHash: string) =>
    db.q.insert(signInLinks).values({ tokenHash, shopId: "quillfen", expiresAt: 1 });
  const count = async () =>
    (await db.q.select({ n: sql<number>`count(*)` }).from(signInLinks))[0]!.n;

  it("are each stored whole or not at all", async () => {
    const bad = db.atomic([link("undone"), db.q.insert(musts).values({ ok: 0 })]);
    const good = [db.atomic([link("left")]), db.write(link("right")), db.write(link("more"))];
    await expect(bad).rejects.toThrow(Conflict);
    await Promise.all(good);
    expect(await count()).toBe(3);
    await expect(db.write(link("left"))).rejects.toThrow(Conflict);
    await db.write(link("after"));
    expect(await count()).toBe(4);
  });

  it("are on the disk when their caller is told so", async () => {
    await db.write(link("one"));
    expect(await count()).toBe(1);
  });
});
