/**
 * `softset judge`, run as a maker or a script runs it.
 */
import { spawnSync } from "node:child_process";
import { mkdtempSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";

const SOFTSET = fileURLToPath(new URL("../../../.build/softset.js", import.meta.url));

function softset(args: readonly string[], input = "") {
  const { status, stdout, stderr } = spawnSync(process.execPath, [SOFTSET, ...args], {
    input,
    encoding: "utf8",
  });
  return { status, stdout, stderr };
}

const judge = (blend: unknown) => softset(["judge", "-"], JSON.stringify(blend));
const answerOf = (blend: unknown): Record<string, unknown> =>
  JSON.parse(judge(blend).stdout) as Record<string, unknown>;
const problemOf = (blend: unknown) => {
  const { status, stdout, stderr } = judge(blend);
  return { status, stdout, problem: JSON.parse(stderr) as { code: string; detail: string } };
};

const EXAMPLE = {
  parts: [
    { ingredient: "shea-butter", percent: 60 },
    {
      name: "lab fat",
      fattyAcids: { "16:0": 26, "18:0": 35, "18:1": 35, "18:2": 4 },
      percent: 30,
    },
    { name: "other fat", triacylglycerols: { POP: 20, POS: 40, SOS: 27, SOO: 13 }, percent: 10 },
  ],
  celsius: [10, 20, 25, 30, 35],
  airFraction: 0.35,
  use: { celsius: 21 },
  rules: { poreRatingMost: 2, firmness: ["soft", "firm"], softensAboveLeastCelsius: 28 },
};

const SOFT = {
  parts: [
    { ingredient: "shea-butter", percent: 60 },
    { ingredient: "cocoa-butter", percent: 10 },
    { ingredient: "jojoba-oil", percent: 15 },
    { ingredient: "sunflower-oil", percent: 15 },
  ],
};

describe("softset judge", () => {
  it("answers library ingredients, fatty acids and triacylglycerols in one blend", () => {
    const answer = answerOf(EXAMPLE);
    expect(Object.keys(answer)).toEqual([
      "solidFat",
      "firmness",
      "softensAboveCelsius",
      "softensAboveLeastCelsius",
      "slipMeltingCelsius",
      "iodineValue",
      "saponificationValue",
      "poreRating",
      "oilPhase",
      "verdict",
      "findings",
    ]);
    const curve = answer["solidFat"] as Record<string, number>[];
    expect(curve.map((point) => point["celsius"])).toEqual([10, 20, 25, 30, 35]);
    for (const { fresh, settled, low, high } of curve as Record<string, number>[]) {
      expect(fresh!).toBeLessThanOrEqual(settled!);
      expect(low!).toBeLessThanOrEqual(settled!);
      expect(high!).toBeGreaterThanOrEqual(settled!);
    }
    expect(answer["poreRating"]).toMatchObject({ unrated: ["lab fat", "other fat"] });
    expect(answer["verdict"]).toBe("refused");
  });

  it("reads a file as well as standard input", () => {
    const file = join(mkdtempSync(join(tmpdir(), "softset-")), "blend.json");
    writeFileSync(file, JSON.stringify(SOFT));
    const { status, stdout } = softset(["judge", file]);
    expect(status).toBe(0);
    expect(stdout).toBe(judge(SOFT).stdout);
  });

  it("exits 0 whatever the verdict, and without rules judges nothing against the blend", () => {
    const { status, stdout } = judge(SOFT);
    expect(status).toBe(0);
    expect(JSON.parse(stdout)).toMatchObject({ verdict: "orderable", findings: [] });
  });

  it("cannot judge, and says so with no number, when a composition is not known", () => {
    const parts = [
      { ingredient: "beeswax", percent: 5 },
      { ingredient: "shea-butter", percent: 95 },
    ];
    expect(answerOf({ parts })).toMatchObject({
      verdict: "cannot-judge",
      solidFat: [],
      firmness: null,
      softensAboveCelsius: null,
    });
  });

  it.each([
    ["acids that sum to 97 %", { "18:0": 50, "18:1": 47 }, "judge.composition.not-whole"],
    ["acids that sum to 103 %", { "18:0": 50, "18:1": 53 }, "judge.composition.not-whole"],
    ["an acid nobody knows", { "18:0": 50, "19:9": 50 }, "judge.composition.component-unknown"],
    ["a negative acid", { "18:0": 110, "18:1": -10 }, "judge.composition.not-a-number"],
  ])("cannot judge %s", (_, fattyAcids, code) => {
    const parts = [{ name: "odd fat", fattyAcids, percent: 100 }];
    const answer = answerOf({ parts }) as { verdict: string; findings: { code: string }[] };
    expect(answer.verdict).toBe("cannot-judge");
    expect(answer.findings.map((each) => each.code)).toContain(code);
  });

  it("cannot judge a temperature outside -10 to 60 °C", () => {
    expect(answerOf({ ...SOFT, celsius: [20, 61] })).toMatchObject({
      verdict: "cannot-judge",
      solidFat: [],
      findings: [{ code: "judge.temperature.out-of-range", measured: 61 }],
    });
    expect(answerOf({ ...SOFT, celsius: [-10, 60] })).toMatchObject({ verdict: "orderable" });
  });

  it("keeps two fats of the same name apart", () => {
    const hard = { name: "lab", fattyAcids: { "18:0": 60, "18:1": 40 }, percent: 50 };
    const liquid = { name: "lab", fattyAcids: { "18:1": 100 }, percent: 50 };
    const both = answerOf({ parts: [hard, liquid], celsius: [20] });
    const [point] = both["solidFat"] as { settled: number }[];
    expect(point!.settled).toBeGreaterThan(5);
    expect(point!.settled).toBeLessThan(60);
  });

  it("names the sum when shares do not make 100 %", () => {
    const parts = [{ ingredient: "shea-butter", percent: 99.5 }];
    const { status, stdout, problem } = problemOf({ parts });
    expect([status, stdout, problem.code]).toEqual([2, "", "compose.choice.refused"]);
    expect(problem.detail).toContain("99.5 %");
  });

  it.each([
    ["an unknown ingredient", { parts: [{ ingredient: "moon-butter", percent: 100 }] }],
    ["a negative percent", { parts: [{ ingredient: "shea-butter", percent: -100 }] }],
    ["a percent finer than 0.01", { parts: [{ ingredient: "shea-butter", percent: 99.999 }] }],
    ["no parts", { parts: [] }],
    ["a key nobody asked for", { ...SOFT, shade: "pink" }],
    [
      "a part that is two things",
      { parts: [{ ingredient: "shea-butter", fattyAcids: {}, percent: 1 }] },
    ],
  ])("exits 2 with a problem for %s", (_, blend) => {
    const { status, stdout, problem } = problemOf(blend);
    expect([status, stdout]).toEqual([2, ""]);
    expect(problem.code).toMatch(/^(compose|request)\./);
  });

  it("exits 2 for text that is no JSON, a file that is not there, and a command nobody knows", () => {
    expect(softset(["judge", "-"], "{").status).toBe(2);
    expect(softset(["judge", "/nowhere/blend.json"]).status).toBe(2);
    expect(softset(["judge"]).status).toBe(2);
    expect(softset(["divine"]).status).toBe(2);
    expect(softset(["help"]).status).toBe(0);
  });
});
