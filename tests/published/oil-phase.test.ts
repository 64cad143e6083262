/**
 * The oxidation order against one published set of oxidative stability hours, and what is left on skin against facts
 * about real butters.
 */
import { afterAll, describe, expect, it } from "vitest";
import { meltOf } from "#core/judge/melt.ts";
import { oilPhase } from "#core/judge/oil-phase.ts";
import { oxidizability } from "#core/judge/oxidation.ts";
import { inLibrary, libraryBlend } from "../helpers/library-blend.ts";

/**
 * Oxidative stability index at 110 °C, hours: table in Cosmetics & Toiletries, read in a copy. Of the oils whose
 * composition the formula holds for; jojoba 34.0 and castor 21.6 of the same table cannot be judged.
 */
const HOURS_AT_110_C: readonly (readonly [id: string, hours: number])[] = [
  ["macadamia-oil", 72],
  ["olive-oil", 3.9],
  ["high-oleic-safflower-oil", 12],
  ["sweet-almond-oil", 7.6],
  ["soybean-oil", 6],
  ["borage-oil", 4.7],
];

/** Spearman's rank correlation of distinct values. */
function spearman(one: readonly number[], other: readonly number[]): number {
  const rank = (values: readonly number[]) =>
    values.map((value) => values.filter((each) => each < value).length);
  const [a, b] = [rank(one), rank(other)];
  const squares = a.reduce((sum, rankOf, at) => sum + (rankOf - b[at]!) ** 2, 0);
  return 1 - (6 * squares) / (one.length * (one.length ** 2 - 1));
}

const cox = HOURS_AT_110_C.map(([id]) => oxidizability(inLibrary(id))!);
const hours = HOURS_AT_110_C.map(([, each]) => each);
const agreement = spearman(
  cox.map((each) => -each),
  hours,
);

afterAll(() => {
  const rows = HOURS_AT_110_C.map(([id, each], at) => [
    id,
    { COX: cox[at]!.toFixed(2), hours: each },
  ]);
  console.table(Object.fromEntries(rows));
  console.log(`Spearman ${agreement.toFixed(2)} on six oils`);
});

describe("the oxidation order against published stability hours (110 °C, six oils)", () => {
  it("agrees weakly: Spearman 0.43; typical compositions, not those of the oils tested", () => {
    expect(agreement).toBeCloseTo(0.43, 2);
  });

  it("fails on olive oil alone: without it the order of the other five is the same", () => {
    const without = (values: readonly number[]) => values.filter((_, at) => at !== 1);
    // Left out after the result was seen, so this is no evidence; it says where the miss lies.
    expect(spearman(without(cox.map((each) => -each)), without(hours))).toBe(1);
  });

  it("cannot judge the jojoba and castor of the same table, nor meadowfoam", () => {
    for (const id of ["jojoba-oil", "castor-oil", "meadowfoam-oil"]) {
      expect(oxidizability(inLibrary(id)), id).toBeUndefined();
    }
  });
});

describe("what is left on skin at 32 °C", () => {
  const left = (id: string) => {
    const blend = libraryBlend({ [id]: 100 });
    return oilPhase(blend, meltOf(blend)!);
  };

  it.each(["coconut-oil", "babassu-oil", "palm-kernel-oil"])(
    "is nothing of %s: lauric oils melt below it (slip points of 23 to 30 °C, from memory)",
    (id) => {
      expect(left(id).onSkin).toBe("melts on contact");
    },
  );

  it.each(["kokum-butter", "illipe-butter", "cocoa-butter"])(
    "is a film of %s: clear only at 34 °C and above (cocoa form V 33.8, Wille & Lutton 1966)",
    (id) => {
      expect(left(id).onSkin).toBe("leaves a film");
    },
  );
});
