/**
 * A crowd at one product: its database is asked once a second, not once for each of them, and what they see is never
 * old for long.
 */
import { afterAll, beforeAll, beforeEach, describe, expect, it } from "vitest";
import { createApp } from "#service/app.ts";
import { type TestShop, openTestShop } from "../../helpers/shop.ts";

const CROWD = 40;

let test: TestShop;
let app: ReturnType<typeof createApp>;
let asked = { marks: 0, owners: 0 };
let isDown = false;
beforeAll(async () => {
  test = await openTestShop();
  const { shops } = test.shop;
  const counted: typeof shops = {
    ...shops,
    offerMark: async (id) => {
      asked.marks += 1;
      if (isDown) throw new Error("the database does not answer");
      return await shops.offerMark(id);
    },
    byId: async (id) => {
      asked.owners += 1;
      return await shops.byId(id);
    },
  };
  app = createApp({ ...test.shop, shops: counted });
  await app.request("/shop/everyday");
});
beforeEach(() => {
  asked = { marks: 0, owners: 0 };
  isDown = false;
});
afterAll(() => test.close());

async function crowd(): Promise<number[]> {
  const pages = Array.from({ length: CROWD }, () => app.request("/shop/everyday"));
  return (await Promise.all(pages)).map(({ status }) => status);
}

describe("a crowd", () => {
  it("asks the database once in a new second, and not at all in the same", async () => {
    test.pass(1);
    expect(await crowd()).toEqual(Array(CROWD).fill(200));
    expect(asked).toEqual({ marks: 1, owners: 0 });
    await crowd();
    expect(asked).toEqual({ marks: 1, owners: 0 });
  });

  it("sees what was so just now while the database is slow to answer, and not for longer", async () => {
    isDown = true;
    for (const second of [1, 2]) {
      test.pass(1);
      const statuses = await crowd();
      // Whoever asked is told; all others see what was there.
      expect([second, statuses.filter((status) => status !== 200)]).toEqual([second, [500]]);
    }
    test.pass(1);
    expect(await crowd()).toEqual(Array(CROWD).fill(500));
    isDown = false;
    expect(await crowd()).toEqual(Array(CROWD).fill(200));
  });

  it("may be answered by a cache in front for two seconds, and nothing else may", async () => {
    const headerOf = async (path: string) => (await app.request(path)).headers.get("cache-control");
    for (const path of ["/shop/everyday", "/v1/products/everyday"]) {
      expect(await headerOf(path)).toBe("public, max-age=0, s-maxage=2");
    }
    for (const path of [
      "/",
      "/v1/products",
      "/shop/none",
      "/v1/products/none",
      "/nowhere",
      "/v1",
    ]) {
      expect(await headerOf(path)).toBe("no-cache");
    }
  });
});
