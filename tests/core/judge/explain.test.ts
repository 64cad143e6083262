import { describe, expect, it } from "vitest";
import type { Blend } from "#core/blend.ts";
import { GROUP_WORDS, sayWhy } from "#core/judge/explain-words.ts";
import {
  SOLID_GROUPS,
  type SolidGroup,
  type SolidsExplained,
  explainJudgement,
  explainSolids,
} from "#core/judge/explain.ts";
import { type FatState, meltOf } from "#core/judge/melt.ts";
import { solidFatPercent } from "#core/judge/solid-fat.ts";
import { judgeBlend } from "#core/judge/verdict.ts";
import {
  BEESWAX,
  COCOA_BUTTER,
  COCONUT_OIL,
  HARD_BLEND,
  JOJOBA_OIL,
  SEVEN_BLEND,
  SHEA_BUTTER,
  SOFT_BLEND,
  SUNFLOWER_OIL,
  TWELVE_BLEND,
  aBlend,
} from "../../helpers/ingredients.ts";

function why(blend: Blend, celsius = 20, state: FatState = "settled"): SolidsExplained {
  return explainSolids(blend, meltOf(blend)!, celsius, state);
}

function total(lines: readonly { readonly points: number }[]): number {
  return lines.reduce((sum, { points }) => sum + points, 0);
}

function pointsOf(explained: SolidsExplained, group: SolidGroup): number {
  return explained.groups.find((line) => line.group === group)?.points ?? 0;
}

describe("the points of solid fat", () => {
  it.each([
    ["soft", SOFT_BLEND],
    ["hard", HARD_BLEND],
    ["seven", SEVEN_BLEND],
    ["twelve", TWELVE_BLEND],
  ])("sum to the solid fat of the %s blend, by group and by ingredient", (_, blend) => {
    for (const state of ["settled", "fresh"] as const) {
      for (let celsius = -10; celsius <= 60; celsius += 5) {
        const explained = why(blend, celsius, state);
        const solidFat = solidFatPercent(meltOf(blend)!, state, celsius);
        expect(explained.solidFat).toBe(solidFat);
        expect(total(explained.groups)).toBeCloseTo(solidFat, 6);
        expect(total(explained.ingredients)).toBeCloseTo(solidFat, 6);
        for (const { points } of [...explained.groups, ...explained.ingredients]) {
          expect(points).toBeGreaterThanOrEqual(0);
        }
      }
    }
  });

  it("keep their sums in lauric blends, whose species are told together", () => {
    const blend = aBlend([COCOA_BUTTER, 30], [COCONUT_OIL, 50], [SUNFLOWER_OIL, 20]);
    for (const celsius of [-10, 0, 10, 20, 25]) {
      const { solidFat, groups, ingredients } = why(blend, celsius);
      expect(total(groups)).toBeCloseTo(solidFat, 6);
      expect(total(ingredients)).toBeCloseTo(solidFat, 6);
    }
  });

  it("keep their sums and proportions where a lot's certificate puts the curve right", () => {
    const lot = {
      ...SHEA_BUTTER,
      solidFatCurve: [
        { celsius: 10, percent: 60 },
        { celsius: 20, percent: 45 },
        { celsius: 30, percent: 25 },
      ],
    };
    const [known, library] = [lot, SHEA_BUTTER].map((shea) =>
      why(aBlend([shea, 70], [COCOA_BUTTER, 10], [SUNFLOWER_OIL, 20]), 20),
    );
    expect(Math.abs(known!.solidFat - library!.solidFat)).toBeGreaterThan(1);
    expect(total(known!.groups)).toBeCloseTo(known!.solidFat, 6);
    expect(total(known!.ingredients)).toBeCloseTo(known!.solidFat, 6);
    const part = ({ ingredients, solidFat }: SolidsExplained) => ingredients[0]!.points / solidFat;
    expect(part(known!)).toBeCloseTo(part(library!), 9);
    expect(known!.unexplained).toBe(0);
  });

  it("say that nothing explains solids measured where every species is liquid", () => {
    const solidFatCurve = [
      { celsius: 40, percent: 3 },
      { celsius: 50, percent: 2 },
    ];
    const lot = { ...COCONUT_OIL, solidFatCurve };
    const explained = why(aBlend([lot, 100]), 45);
    expect(explained.solidFat).toBeGreaterThan(0);
    expect(explained.unexplained).toBe(explained.solidFat);
    expect(explained.groups).toEqual([]);
  });

  it("name every fat and oil once, the greatest first, and no powder", () => {
    const { ingredients } = why(SEVEN_BLEND);
    expect(ingredients.map(({ ingredient }) => ingredient).sort()).toEqual([
      "cocoa-butter",
      "jojoba-oil",
      "rosehip-oil",
      "shea-butter",
      "sweet-almond-oil",
      "tocopherol",
    ]);
    expect(ingredients[0]!.ingredient).toBe("shea-butter");
    expect(ingredients.at(-1)!.points).toBe(0);
  });
});

describe("why a butter is hard", () => {
  it("is SUS in cocoa butter: nine tenths of its solids at 20 °C", () => {
    const cocoa = why(aBlend([COCOA_BUTTER, 100]));
    expect(cocoa.groups[0]!.group).toBe("SUS");
    expect(pointsOf(cocoa, "SUS") / cocoa.solidFat).toBeGreaterThan(0.9);
  });

  it("is the lauric fats in coconut oil, and none of them in cocoa butter", () => {
    const coconut = why(aBlend([COCONUT_OIL, 100]));
    expect(pointsOf(coconut, "lauric") / coconut.solidFat).toBeGreaterThan(0.9);
    expect(pointsOf(why(aBlend([COCOA_BUTTER, 100])), "lauric")).toBe(0);
  });

  it("is SUS and, in the cool, SUU in shea: the SUU is gone in a warm room", () => {
    const shea = aBlend([SHEA_BUTTER, 100]);
    expect(pointsOf(why(shea, 5), "SUU")).toBeGreaterThan(5);
    expect(pointsOf(why(shea, 28), "SUU")).toBeLessThan(0.5);
    expect(pointsOf(why(shea, 28), "SUS")).toBeGreaterThan(5);
  });

  it("is the trisaturated fats at the warm end", () => {
    const { groups } = why(aBlend([SHEA_BUTTER, 100]), 45);
    expect(groups.map(({ group }) => group)).toEqual(["trisaturated"]);
  });

  it("is the wax where there is one: its own group, and all of it from the wax", () => {
    const composition = {
      kind: "wax",
      molarMass: 600,
      meltingCelsius: 63,
      fusionKJPerMol: 110,
      structure: 4,
    } as const;
    const explained = why(aBlend([SUNFLOWER_OIL, 95], [{ ...BEESWAX, composition }, 5]));
    expect(explained.groups.map(({ group }) => group)).toEqual(["wax"]);
    expect(explained.ingredients[0]!.ingredient).toBe("beeswax");
    expect(explained.ingredients[0]!.points).toBeCloseTo(explained.solidFat, 6);
  });

  it("is the cocoa and not the shea in the hard blend, and the other way round in the soft one", () => {
    expect(why(HARD_BLEND).ingredients[0]!.ingredient).toBe("cocoa-butter");
    expect(why(SOFT_BLEND).ingredients[0]!.ingredient).toBe("shea-butter");
  });

  it("is shared by moles: two names for one fat make solids in step with their shares", () => {
    const twin = { ...COCOA_BUTTER, id: "twin" };
    const blend = aBlend([COCOA_BUTTER, 60], [twin, 20], [SUNFLOWER_OIL, 20]);
    const { ingredients } = why(blend);
    const [first, second] = ingredients;
    expect([first!.ingredient, second!.ingredient]).toEqual(["cocoa-butter", "twin"]);
    expect(first!.points / second!.points).toBeCloseTo(3, 9);
  });
});

describe("the explanation of a judgement", () => {
  it("tells both states at every temperature of the curve and in use, coolest first, each once", () => {
    const judgement = judgeBlend(SOFT_BLEND, { celsius: [30, 10, 21], useCelsius: 21 });
    expect(
      explainJudgement(SOFT_BLEND, judgement).map(({ celsius, state }) => `${celsius} ${state}`),
    ).toEqual(["10 settled", "10 fresh", "21 settled", "21 fresh", "30 settled", "30 fresh"]);
  });

  it("is empty for a blend that cannot be judged, whatever else is in it", () => {
    const nobody = { ...BEESWAX, composition: { kind: "unknown" } } as const;
    const blend = aBlend([SHEA_BUTTER, 95], [nobody, 5]);
    const judgement = judgeBlend(blend, { celsius: [20], useCelsius: 21 });
    expect(explainJudgement(blend, judgement)).toEqual([]);
  });
});

describe("the words", () => {
  it("name each group", () => {
    expect(Object.keys(GROUP_WORDS)).toEqual([...SOLID_GROUPS]);
  });

  it("say who makes the solids, in names people use, and leave out what makes none", () => {
    const sentence = sayWhy(why(SOFT_BLEND), (id) => id.replaceAll("-", " "));
    expect(sentence).toMatch(/^At 20 °C [\d.]+ % of the settled fat is solid\./);
    expect(sentence).toMatch(/By ingredient: shea butter [\d.]+, cocoa butter [\d.]+\./);
    expect(sentence).toMatch(/By kind of fat: SUS/);
    expect(sentence).not.toContain("jojoba");
  });

  it("say that an oil holds next to nothing solid", () => {
    expect(sayWhy(why(aBlend([JOJOBA_OIL, 100])))).toContain("next to nothing of the settled fat");
    expect(sayWhy(why(SOFT_BLEND, 20, "fresh"))).toContain("of the fat just whipped is solid");
  });
});
