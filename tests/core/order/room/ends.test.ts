import { openPicture } from "#core/order/room/picture.ts";
import { openRoom } from "#core/order/room/room.ts";
import { refereeOf } from "#core/order/room/referee.ts";
import { combine, pointIn } from "#core/order/room/space.ts";
import { makeTariff } from "#core/price/tariff.ts";
import { ingredientsOf } from "#core/compose/product.ts";
import { DEMO_COSTS, DEMO_PRODUCTS } from "#data/seeds/demo.ts";
import { describe, expect, it } from "vitest";
import { GROUND, ROOM_PRODUCT, judgingOf, spaceFor, verdictOf } from "./a-space.ts";

const POLICY = { ...DEMO_PRODUCTS[0]!.pricePolicy, jarMinor: { "jar-100": 80 }, roundUpToMinor: 1 };

function tariffsOf(change: object = {}) {
  const [jar] = ROOM_PRODUCT.jars;
  const made = makeTariff({ ...POLICY, ...change }, jar!, DEMO_COSTS, ingredientsOf(ROOM_PRODUCT));
  if ("findings" in made) throw new Error("the policy of the test is sound");
  return { [jar!.id]: made.tariff };
}

function roomOf(tariffs?: ReturnType<typeof tariffsOf>) {
  const work = openRoom(ROOM_PRODUCT, GROUND, { draws: 3000, ...(tariffs ? { tariffs } : {}) });
  while (!work.step(5000));
  return work.result().bases[0]!;
}

const priceIn = (blend: { prices: Readonly<Record<string, object>> } | undefined) =>
  (blend!.prices["jar-100"] as { jarMinor: number }).jarMinor;

describe("the ends of a room", () => {
  it("are as good as the best of a full grid of half percents", { timeout: 120_000 }, () => {
    const space = spaceFor(ROOM_PRODUCT);
    const { judge, firmness } = refereeOf(space, judgingOf(ROOM_PRODUCT));
    const point = pointIn(space);
    const [, cocoa, light, rich] = space.slots;
    let softest = Infinity;
    let firmest = 0;
    for (let combination = 0; combination < space.combinations; combination++) {
      combine(space, combination, point);
      for (let a = cocoa!.least; a <= cocoa!.greatest; a += 100) {
        for (let b = light!.least; b <= light!.greatest; b += 100) {
          for (let c = rich!.least; c <= rich!.greatest; c += 100) {
            const rest = space.total - a - b - c;
            if (rest < 4000 || rest > 7000) continue;
            point.shares.set([rest, a, b, c]);
            if (judge(point).against !== 0) continue;
            const { yieldPa } = firmness()!;
            softest = Math.min(softest, yieldPa);
            firmest = Math.max(firmest, yieldPa);
          }
        }
      }
    }
    const { ends } = roomOf();
    expect(ends.softest!.yieldPa).toBeLessThanOrEqual(softest * 1.005);
    expect(ends.firmest!.yieldPa).toBeGreaterThanOrEqual(firmest * 0.995);
    expect(ends.cheapest).toBeUndefined();
  });

  it("are orderable, priced by the tariff and in order", () => {
    const { ends } = roomOf(tariffsOf());
    for (const end of [ends.cheapest, ends.dearest, ends.softest, ends.firmest]) {
      expect(verdictOf(ROOM_PRODUCT, end!.choice).verdict).toBe("orderable");
      expect(priceIn(end)).toBeGreaterThanOrEqual(priceIn(ends.cheapest));
      expect(priceIn(end)).toBeLessThanOrEqual(priceIn(ends.dearest));
    }
    expect(ends.dearest!.choice.oils[0]!.ingredient).toBe("jojoba-oil");
    expect(ends.cheapest!.choice.oils[0]!.ingredient).toBe("sunflower-oil");
  });
});

describe("the room of a jar", () => {
  it("is smaller by what its tariff is too dear for, and the parts add up", () => {
    const { ends } = roomOf(tariffsOf());
    const middle = Math.round((priceIn(ends.cheapest) + priceIn(ends.dearest)) / 2);
    const { room, jars } = roomOf(tariffsOf({ mostMinor: { "jar-100": middle } }));
    const [jar] = jars;
    expect(jar!.tooDear).toBeGreaterThan(0.05);
    expect(jar!.room.share + jar!.tooDear).toBeCloseTo(room.share, 12);
    expect(jar!.noPrice).toBe(0);
  });

  it("tells how much is lifted to the least price", () => {
    const { room, jars } = roomOf(tariffsOf({ leastMinor: { "jar-100": 90_000 } }));
    expect(jars[0]!.atLeastPrice).toBeCloseTo(room.share, 12);
    expect(jars[0]!.room).toEqual(room);
  });

  it("does not sell what has no cost on record", () => {
    const tariffs = tariffsOf();
    const { "jojoba-oil": _gone, ...rateNano } = tariffs["jar-100"]!.rateNano;
    const { jars, ends } = roomOf({ "jar-100": { ...tariffs["jar-100"]!, rateNano } });
    expect(jars[0]!.noPrice).toBeGreaterThan(0.1);
    expect(ends.cheapest).toBeUndefined();
  });
});

describe("a picture of the room", () => {
  const drawn = (question: object = {}, product = ROOM_PRODUCT) => {
    const asked = { base: "plain", across: "shea-butter", up: "light", cells: 9, ...question };
    const work = openPicture(product, GROUND, asked);
    while (!work.step(100));
    return work.result();
  };

  it("runs from end to end of both bounds and says which oils stand in it", () => {
    const { across, up, rows, oils } = drawn({ oils: { rich: "castor-oil" } });
    expect([across[0], across.at(-1)]).toEqual([4000, 7000]);
    expect([up[0], up.at(-1)]).toEqual([500, 3000]);
    expect(rows.map(({ length }) => length)).toEqual(up.map(() => across.length));
    expect(oils).toEqual({ light: "sunflower-oil", rich: "castor-oil" });
  });

  it("has every kind of cell, each as the verdict has it", () => {
    const warm = { ...ROOM_PRODUCT, rules: { softensAboveLeastCelsius: 28 } };
    const { across, up, rows } = drawn({ cells: 13 }, warm);
    const states = new Set(rows.flat().map(({ state }) => state));
    expect(states).toContain("passes");
    expect(states).toContain("refused");
    expect(states).toContain("outside");
    for (const [y, row] of rows.entries()) {
      for (const [x, cell] of row.entries()) {
        const rest = 9950 - across[x]! - up[y]!;
        const isOutside = rest < 1000 || rest > 6000;
        expect(cell.state === "outside").toBe(isOutside);
        expect(cell.against.length > 0).toBe(
          cell.state === "refused" || cell.state === "passes-with-others",
        );
      }
    }
  });

  it("says that a refused cell passes with the others elsewhere", () => {
    const cells = drawn(
      { cells: 13 },
      { ...ROOM_PRODUCT, rules: { firmness: ["soft"] } },
    ).rows.flat();
    expect(cells.some(({ state }) => state === "passes-with-others")).toBe(true);
  });

  it.each([
    [{ base: "none" }],
    [{ across: "light" }],
    [{ up: "nothing" }],
    [{ oils: { rich: "argan-oil" } }],
  ])("refuses to draw %j", (question) => {
    expect(() => drawn(question)).toThrow(RangeError);
  });
});
