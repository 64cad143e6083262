/**
 * What makers know from the bench: common practice, no source. Room of 21 °C, butter grown by half in whipping.
 */
import { describe, expect, it } from "vitest";
import { type Judgement, judgeBlend } from "#core/judge/verdict.ts";
import { libraryBlend } from "../helpers/library-blend.ts";

function judgedAtRoom(percent: Readonly<Record<string, number>>): Judgement {
  return judgeBlend(libraryBlend(percent), { celsius: [21], useCelsius: 21 });
}

const HARD = { "cocoa-butter": 60, "shea-butter": 15 };
const SOFT = { "shea-butter": 60, "cocoa-butter": 10 };

const hardOnes: readonly (readonly [coconut: number, sunflower: number])[] = [
  [5, 20],
  [12, 13],
  [20, 5],
];
const softOnes: readonly (readonly [jojoba: number, sunflower: number])[] = [
  [5, 25],
  [15, 15],
  [25, 5],
];

describe("the trade's two check values (common practice, no source)", () => {
  it.each(hardOnes)(
    "cocoa 60, shea 15, coconut %d, sunflower %d is hard when settled, with the whole band",
    (coconut, sunflower) => {
      const { firmness } = judgedAtRoom({
        ...HARD,
        "coconut-oil": coconut,
        "sunflower-oil": sunflower,
      });
      expect(firmness).toMatchObject({ settled: "hard", lowest: "hard" });
    },
  );

  it.each(softOnes)(
    "shea 60, cocoa 10, jojoba %d, sunflower %d is soft when settled, with the whole band",
    (jojoba, sunflower) => {
      const { firmness } = judgedAtRoom({
        ...SOFT,
        "jojoba-oil": jojoba,
        "sunflower-oil": sunflower,
      });
      expect(firmness).toMatchObject({ settled: "soft", lowest: "soft", highest: "soft" });
    },
  );

  it("stand wide apart: the hard one has 3.9 times the yield value, 3.7 times at the nearest pair", () => {
    const yields = (blends: readonly Readonly<Record<string, number>>[]) =>
      blends.map((percent) => judgedAtRoom(percent).firmness!.yieldPa);
    const hard = yields(
      hardOnes.map(([coconut, sunflower]) => ({
        ...HARD,
        "coconut-oil": coconut,
        "sunflower-oil": sunflower,
      })),
    );
    const soft = yields(
      softOnes.map(([jojoba, sunflower]) => ({
        ...SOFT,
        "jojoba-oil": jojoba,
        "sunflower-oil": sunflower,
      })),
    );
    expect(hard[1]! / soft[1]!).toBeGreaterThan(3.5);
    expect(Math.min(...hard) / Math.max(...soft)).toBeGreaterThan(3.3);
  });

  it("harden in the first week: both are softer just whipped than settled", () => {
    for (const percent of [
      { ...HARD, "coconut-oil": 12, "sunflower-oil": 13 },
      { ...SOFT, "jojoba-oil": 15, "sunflower-oil": 15 },
    ]) {
      const [room] = judgedAtRoom(percent).solidFat;
      expect(room!.fresh).toBeLessThan(room!.settled - 10);
    }
  });
});
