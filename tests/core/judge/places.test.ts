import { describe, expect, it } from "vitest";
import { FIRMNESS_CLASSES } from "#core/judge/firmness.ts";
import { usualPlaces } from "#core/judge/places.ts";
import { judgeBlend } from "#core/judge/verdict.ts";
import { SOFT_BLEND } from "../../helpers/ingredients.ts";

const QUESTION = { celsius: [], useCelsius: 21 };

describe("firmness at other places", () => {
  it("is told for the places asked for, in their order, and for none unasked", () => {
    const places = [
      { name: "beach", celsius: 33 },
      { name: "cellar", celsius: 12 },
    ];
    const judged = judgeBlend(SOFT_BLEND, { ...QUESTION, places });
    expect(judged.places).toMatchObject(places);
    expect(judgeBlend(SOFT_BLEND, QUESTION).places).toBeUndefined();
  });

  it("is what the blend would be if it were meant for that place", () => {
    const places = usualPlaces(21);
    const judged = judgeBlend(SOFT_BLEND, { ...QUESTION, places });
    for (const [at, { name, celsius }] of places.entries()) {
      const there = judgeBlend(SOFT_BLEND, { celsius: [], useCelsius: celsius }).firmness!;
      // The solver starts from the next warmer answer, so the last digit depends on what was asked before.
      const yieldPa = expect.closeTo(there.yieldPa, 6) as number;
      expect(judged.places![at]).toEqual({ name, ...there, yieldPa });
    }
  });

  it("never rises from a cool room over a hot one and skin to a summer parcel", () => {
    const places = usualPlaces(21);
    expect(places.map(({ celsius }) => celsius)).toEqual([10, 21, 28, 32, 35]);
    const judged = judgeBlend(SOFT_BLEND, { ...QUESTION, places }).places!;
    const ranks = judged.map(({ settled }) => FIRMNESS_CLASSES.indexOf(settled));
    expect(ranks).toEqual([...ranks].sort((one, other) => other - one));
    expect(ranks[0]).toBeGreaterThan(ranks.at(-1)!);
  });

  it("is not told for a place outside the range, which leaves the blend unjudged", () => {
    const places = [{ name: "oven", celsius: 61 }];
    const judged = judgeBlend(SOFT_BLEND, { ...QUESTION, places });
    expect(judged).toMatchObject({ verdict: "cannot-judge", solidFat: [] });
    expect(judged.findings).toContainEqual(
      expect.objectContaining({ code: "judge.temperature.out-of-range", measured: 61 }),
    );
  });
});
