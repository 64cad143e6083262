import { describe, expect, it } from "vitest";
import { readJar } from "#service/kitchen/evidence.ts";
import { A_CONE, AT, aTestJar } from "../storage/contract-rows.ts";

const SHEA = JSON.stringify([
  { ingredient: "shea-butter", share: 7000 },
  { ingredient: "sunflower-oil", share: 3000 },
]);

function read(change: Partial<ReturnType<typeof aTestJar>> & { struckAt?: number } = {}) {
  return readJar({ ...aTestJar({ parts: SHEA, ...change }), number: 1, struckAt: null, ...change });
}

describe("a stored jar", () => {
  it("gives settled solids at its temperature, its air and its reading", () => {
    const { evidence, leftOut } = read({ lot: "S-1" });
    expect(leftOut).toBeUndefined();
    expect(evidence).toMatchObject({ reading: { grade: "soft" }, lot: "S-1" });
    expect(evidence!.airFraction).toBeGreaterThan(0.3);
    expect(read({ celsius: 28 }).evidence!.solidFatPercent).toBeLessThan(evidence!.solidFatPercent);
  });

  it("gives a yield value when it was measured by cone", () => {
    const { reading } = read({ grade: null, ...A_CONE }).evidence!;
    expect((reading as { yieldPa: number }).yieldPa / 98.0665).toBeCloseTo(
      (5840 * 80.25) / 98.5 ** 1.6,
      6,
    );
  });

  it("counts a wax by the structure it gives and not by its solids alone", () => {
    const waxed = JSON.stringify([
      { ingredient: "beeswax", share: 500 },
      { ingredient: "sunflower-oil", share: 9500 },
    ]);
    expect(read({ parts: waxed }).evidence!.solidFatPercent).toBeGreaterThan(5);
  });

  it.each([
    [{ daysRested: 2 }, /rested under 3 days/],
    [{ struckAt: AT }, /struck out/],
    [{ celsius: 50 }, /all but molten/],
    [{ netMg: 120_000 }, /weight does not fit/],
    [{ parts: '[{"ingredient":"moon-oil","share":10000}]' }, /no longer in the library/],
  ])("is kept and not learned from with %o", (change, why) => {
    expect(read(change).leftOut).toMatch(why);
  });

  it("is learned from on the third day", () => {
    expect(read({ daysRested: 3 }).leftOut).toBeUndefined();
  });
});
