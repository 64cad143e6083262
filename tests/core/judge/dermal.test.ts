/**
 * Limits on skin: each met at its edge and missed a hundredth of a percent above it, summed over the blend, and never
 * guessed where a figure is missing.
 */
import { describe, expect, it } from "vitest";
import { sayFinding } from "#core/finding.ts";
import type { Aromatic, Ingredient } from "#core/ingredient.ts";
import { dermalFindings, skinLimits } from "#core/judge/dermal.ts";
import { judgeBlend } from "#core/judge/verdict.ts";
import { ruleChecker } from "#core/order/rule-check.ts";
import { ingredientById } from "#data/library.ts";
import { SHEA_BUTTER, TOCOPHEROL, aBlend } from "../../helpers/ingredients.ts";

/** An invented oil: a thin liquid with what is to be tried. */
function scented(id: string, aromatic: Aromatic, mostShare?: number): Ingredient {
  const { mostShare: _most, ...lavender } = ingredientById("lavender-essential-oil")!;
  return { ...lavender, id, name: id, aromatic, ...(mostShare === undefined ? {} : { mostShare }) };
}

const held = (name: string, highPercent: number, mostPercent?: number) => ({
  ...{ name, low: 0, high: highPercent * 10_000, isListed: true },
  ...(mostPercent === undefined ? {} : { most: Math.round(mostPercent * 10_000) }),
});

/** Findings of shea butter with these oils [ingredient, percent] */
function findingsOf(...oils: [Ingredient, number][]) {
  const rest = oils.reduce((left, [, percent]) => left - percent, 100);
  return dermalFindings(aBlend([SHEA_BUTTER, Math.round(rest * 100) / 100], ...oils));
}

describe("the most of an ingredient", () => {
  const capped: Ingredient = { ...TOCOPHEROL, mostShare: 100 };

  it("is met at its edge and missed above it", () => {
    expect(findingsOf([capped, 1])).toEqual([]);
    expect(findingsOf([capped, 1.01])).toMatchObject([
      { code: "judge.dermal.ingredient-above-most", subject: capped.id, measured: 1.01, limit: 1 },
    ]);
  });

  it("refuses the verdict, and the quick check of the rules says the same", () => {
    const blend = aBlend([SHEA_BUTTER, 98], [capped, 2]);
    expect(judgeBlend(blend, { celsius: [], useCelsius: 21 }).verdict).toBe("refused");
    expect(ruleChecker({ useCelsius: 21, rules: {} })(blend).passes).toBe(false);
  });
});

describe("a substance", () => {
  const lemony = scented("lemony", { holds: [held("Citral", 4, 0.15)] });
  const rosy = scented("rosy", { holds: [held("Citral", 2, 0.15)] });

  it("counts by the upper end of what is held, exactly", () => {
    expect(findingsOf([lemony, 3.75])).toEqual([]); // 3.75 % of 4 % is 0.15 %
    expect(findingsOf([lemony, 3.76])).toEqual([
      expect.objectContaining({
        ...{ code: "judge.dermal.substance-above-most", subject: "Citral" },
        ...{ measured: 0.1504, limit: 0.15, unit: "%" },
      }),
    ]);
  });

  it("is added up from every oil that holds it", () => {
    expect(findingsOf([lemony, 2], [rosy, 3.5])).toEqual([]); // 0.08 + 0.07
    expect(findingsOf([lemony, 2], [rosy, 3.51])).toHaveLength(1);
  });

  it("is said in a sentence with the oils as what to mend", () => {
    const [found] = findingsOf([lemony, 4]);
    expect(sayFinding(found!)).toBe(
      "The scented oils may bring 0.16 % Citral; at most 0.15 % may stay on skin. Less of them would help.",
    );
  });

  it("without a published limit stands against nothing", () => {
    const open = scented("open", { holds: [held("Linalool", 45)] });
    expect(findingsOf([open, 30])).toEqual([]);
  });
});

describe("oils that burn in the sun", () => {
  const lemon = scented("lemon", { holds: [], sunMostShare: 200 });
  const bergamot = scented("bergamot", { holds: [], sunMostShare: 40 });

  it("may come to the whole of their limits together and not more", () => {
    expect(findingsOf([lemon, 2])).toEqual([]);
    expect(findingsOf([lemon, 1], [bergamot, 0.2])).toEqual([]); // a half and a half
    expect(findingsOf([lemon, 1], [bergamot, 0.21])).toMatchObject([
      { code: "judge.dermal.sun-above-most", subject: "blend", measured: 102.5, limit: 100 },
    ]);
  });

  it("are never said to come to the limit they miss", () => {
    const third = scented("third", { holds: [], sunMostShare: 3000 });
    const [found] = findingsOf([third, 30.01]);
    expect(found!.measured).toBeGreaterThan(100);
  });
});

describe("what is not on record", () => {
  it("cannot be judged: an oil without a composition", () => {
    const unknown = scented("unknown", {});
    const { verdict, findings } = judgeBlend(aBlend([SHEA_BUTTER, 99.9], [unknown, 0.1]), {
      celsius: [],
      useCelsius: 21,
    });
    expect(verdict).toBe("cannot-judge");
    expect(findings[0]).toMatchObject({
      ...{ code: "judge.fragrance.composition-missing", subject: "unknown", mend: "maker" },
    });
  });

  it("cannot be judged: a limit whose figure nobody has, until the maker brings one", () => {
    const ylang = { holds: [], isMostUntold: true } as const;
    expect(findingsOf([scented("ylang", ylang), 0.5])).toMatchObject([
      { code: "judge.dermal.most-missing", subject: "ylang", mend: "maker" },
    ]);
    expect(findingsOf([scented("ylang", ylang, 50), 0.5])).toEqual([]);
    expect(findingsOf([scented("ylang", ylang, 50), 0.51])).toHaveLength(1);
  });
});

describe("blends without scented oils", () => {
  it("come up against no limit at all", () => {
    expect(skinLimits([SHEA_BUTTER, TOCOPHEROL])).toEqual([]);
  });
});

describe("the library", () => {
  const oil = (id: string) => ingredientById(`${id}-essential-oil`)!;

  it.each([
    ["geranium by geraniol on the face: 0.78 of up to 20 %", "geranium", 3.9],
    ["lemon in the sun: 2 %", "lemon", 2],
  ])("caps %s", (_, id, percent) => {
    const above = Math.round((percent + 0.01) * 100) / 100;
    expect(findingsOf([oil(id), percent])).toEqual([]);
    expect(findingsOf([oil(id), above]).length).toBeGreaterThan(0);
  });

  it("leaves tea tree and ylang ylang to a figure of the maker's", () => {
    for (const id of ["tea-tree", "ylang-ylang"]) {
      expect(findingsOf([oil(id), 0.1])).toMatchObject([{ code: "judge.dermal.most-missing" }]);
    }
  });

  it("adds citral up from lemon and geranium: 1.5 x 3.8 + 4.65 x 2 is the limit of 0.15 %", () => {
    const codes = (geranium: number) =>
      findingsOf([oil("lemon"), 1.5], [oil("geranium"), geranium]).map(({ subject }) => subject);
    expect(codes(4.65)).not.toContain("Citral");
    expect(codes(4.66)).toContain("Citral");
  });
});
