/**
 * `softset judge`, as a maker or a script runs it: most by the function behind the command, the edges by the command.
 */
import { spawnSync } from "node:child_process";
import { mkdtempSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { runCommand } from "#service/commands/run.ts";
import { describe, expect, it } from "vitest";

const SOFTSET = fileURLToPath(new URL("../../../.build/softset.js", import.meta.url));
const BLEND = join(mkdtempSync(join(tmpdir(), "softset-")), "blend.json");

function softset(args: readonly string[], input = "") {
  const { status, stdout, stderr } = spawnSync(process.execPath, [SOFTSET, ...args], {
    input,
    encoding: "utf8",
  });
  return { status, stdout, stderr };
}

const judge = async (blend: unknown) => {
  writeFileSync(BLEND, JSON.stringify(blend));
  return await runCommand(["judge", BLEND]);
};
const answerOf = async (blend: unknown): Promise<Record<string, unknown>> =>
  JSON.parse((await judge(blend)).stdout) as Record<string, unknown>;
const problemOf = async (blend: unknown) => {
  const { status, stdout, stderr } = await judge(blend);
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
  it("answers library ingredients, fatty acids and triacylglycerols in one blend", async () => {
    const answer = await answerOf(EXAMPLE);
    expect(Object.keys(answer)).toEqual([
      "solidFat",
      "firmness",
      "places",
      "softensAboveCelsius",
      "softensAboveLeastCelsius",
      "slipMeltingCelsius",
      "iodineValue",
      "saponificationValue",
      "poreRating",
      "oilPhase",
      "oxidation",
      "fragranceAllergens",
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

  it("reads a file as well as standard input", async () => {
    const file = join(mkdtempSync(join(tmpdir(), "softset-")), "blend.json");
    writeFileSync(file, JSON.stringify(SOFT));
    const { status, stdout } = softset(["judge", file]);
    expect(status).toBe(0);
    expect(stdout).toBe((await judge(SOFT)).stdout);
  });

  it("exits 0 whatever the verdict, and without rules judges nothing against the blend", async () => {
    const { status, stdout } = await judge(SOFT);
    expect(status).toBe(0);
    const { verdict, findings } = JSON.parse(stdout);
    expect(verdict).toBe("orderable");
    // Told and no more: shea is rich in fat that can turn grainy.
    expect(findings).toMatchObject([{ code: "judge.grain.possible", limit: 5, unit: "%" }]);
  });

  it("tells the firmness at the usual places, or at those the file names", async () => {
    const usual = JSON.parse((await judge(SOFT)).stdout).places;
    expect(
      usual.map(({ name, celsius }: { name: string; celsius: number }) => [name, celsius]),
    ).toEqual([
      ["cool room", 10],
      ["in use", 21],
      ["hot room", 28],
      ["on skin", 32],
      ["summer parcel", 35],
    ]);
    expect(usual[1]).toMatchObject({ fresh: "soft", settled: "soft" });
    const own = JSON.parse(
      (await judge({ ...SOFT, places: [{ name: "glovebox", celsius: 45 }] })).stdout,
    );
    expect(own.places).toMatchObject([{ name: "glovebox", celsius: 45, settled: "fluid" }]);
  });

  describe("given what cannot be judged", () => {
    const described = (fat: object) => ({ parts: [{ name: "odd fat", percent: 100, ...fat }] });
    const lot = (solidFatCurve: unknown) => ({
      parts: [
        { ingredient: "shea-butter", percent: 60, solidFatCurve },
        { ingredient: "sunflower-oil", percent: 40 },
      ],
    });
    const cold = { celsius: 10, percent: 58 };

    it.each([
      [
        "acids that sum to 97.9 %",
        described({ fattyAcids: { "18:0": 50, "18:1": 47.9 } }),
        "judge.composition.not-whole",
        "odd fat",
      ],
      [
        "acids that sum to 102.1 %",
        described({ fattyAcids: { "18:0": 50, "18:1": 52.1 } }),
        "judge.composition.not-whole",
        "odd fat",
      ],
      ["no acid at all", described({ fattyAcids: {} }), "judge.composition.not-whole", "odd fat"],
      [
        "a middle position that makes no whole",
        described({ fattyAcids: { "18:1": 100 }, sn2: { "18:1": 90 } }),
        "judge.composition.not-whole",
        "odd fat",
      ],
      [
        "an acid nobody knows",
        described({ fattyAcids: { "18:0": 50, "19:9": 50 } }),
        "judge.composition.component-unknown",
        "19:9",
      ],
      [
        "a fat nobody knows",
        described({ triacylglycerols: { POS: 50, ZZZ: 50 } }),
        "judge.composition.component-unknown",
        "ZZZ",
      ],
      [
        "a negative acid",
        described({ fattyAcids: { "18:0": 110, "18:1": -10 } }),
        "judge.composition.not-a-number",
        "odd fat",
      ],
      [
        "an acid that is no number, which JSON writes as null",
        described({ fattyAcids: { "18:0": NaN, "18:1": 100 } }),
        "judge.composition.not-a-number",
        "odd fat",
      ],
      ["a fat without a composition", described({}), "judge.solid-fat.figure-missing", "odd fat"],
      [
        "a lot whose measured solid fat rises",
        lot([cold, { celsius: 20, percent: 60 }]),
        "judge.certificate.rises",
        "20 °C",
      ],
      ["a lot measured once", lot([cold]), "judge.certificate.too-few-readings", "1"],
      [
        "a lot measured above the whole",
        lot([
          { celsius: 10, percent: 101 },
          { celsius: 20, percent: 40 },
        ]),
        "judge.certificate.out-of-range",
        "101 %",
      ],
      [
        "a lot with a reading that is no number",
        lot([cold, { celsius: 20, percent: NaN }]),
        "judge.certificate.out-of-range",
        "NaN %",
      ],
      [
        "a point of the curve above 60 °C",
        { ...SOFT, celsius: [20, 60.1] },
        "judge.temperature.out-of-range",
        "60.1 °C",
      ],
      [
        "a room below -10 °C",
        { ...SOFT, use: { celsius: -10.1 } },
        "judge.temperature.out-of-range",
        "-10.1 °C",
      ],
      [
        "a place above 60 °C",
        { ...SOFT, places: [{ name: "oven", celsius: 90 }] },
        "judge.temperature.out-of-range",
        "90 °C",
      ],
      ["more air than a jar holds", { ...SOFT, airFraction: 0.9 }, "judge.air.out-of-range", "0.9"],
      [
        "a jar without fat",
        { parts: [{ ingredient: "tapioca-starch", percent: 100 }] },
        "judge.solid-fat.no-fat",
        "no fat",
      ],
    ])("exits 0, cannot judge, names it and gives no number: %s", async (_, blend, code, word) => {
      const { status, stdout, stderr } = await judge(blend);
      expect([status, stderr]).toEqual([0, ""]);
      const answer = JSON.parse(stdout);
      expect(answer).toMatchObject({
        verdict: "cannot-judge",
        solidFat: [],
        firmness: null,
        places: [],
        softensAboveCelsius: null,
        softensAboveLeastCelsius: null,
        slipMeltingCelsius: null,
        iodineValue: null,
        saponificationValue: null,
        oilPhase: null,
        oxidation: null,
      });
      const standing = answer.findings.filter(
        (found: { code: string }) => found.code !== "judge.pore-rating.unrated-told",
      );
      expect(standing.map((found: { code: string }) => found.code)).toEqual([code]);
      expect(standing[0].sentence).toContain(word);
    });

    it.each([["judge"], ["explain"]])("says the same of a lot to softset %s", async (command) => {
      const input = JSON.stringify(lot([cold, { celsius: 20, percent: 60 }]));
      const { status, stdout } = softset([command, "-"], input);
      expect(status).toBe(0);
      expect(JSON.parse(stdout).findings).toMatchObject([{ code: "judge.certificate.rises" }]);
    });

    it("takes the very ends: -10 and 60 °C, and acids of 98 and 102 %", async () => {
      expect((await answerOf({ ...SOFT, celsius: [-10, 60] }))["verdict"]).toBe("orderable");
      for (const oleic of [48, 52]) {
        const blend = described({ fattyAcids: { "18:0": 50, "18:1": oleic } });
        expect((await answerOf(blend))["verdict"]).toBe("orderable");
      }
    });
  });

  it("tells iodine and saponification value of a jar with a little essential oil, not with more", async () => {
    const scented = async (percent: number) =>
      await answerOf({
        parts: [
          { ingredient: "shea-butter", percent: 99.5 - percent },
          { ingredient: "tocopherol", percent: 0.5 },
          { ingredient: "lavender-essential-oil", percent },
        ],
      });
    expect((await scented(1))["iodineValue"]).toBeGreaterThan(40);
    expect((await scented(1))["saponificationValue"]).toBeGreaterThan(170);
    expect(await scented(1.01)).toMatchObject({ iodineValue: null, saponificationValue: null });
  });

  it("lists every pore rating with its evidence, and the words that belong beside it", async () => {
    const { poreRating } = (await answerOf(SOFT)) as {
      poreRating: { highest: number; ingredients: unknown[]; about: string[] };
    };
    expect(poreRating.highest).toBe(4);
    expect(poreRating.ingredients[1]).toEqual({
      ingredient: "cocoa-butter",
      share: 1000,
      rating: { rated: true, value: 4, low: 4, high: 4, evidence: "assay-copied", confidence: "B" },
      counts: "yes",
    });
    expect(poreRating.about.join(" ")).toContain("rabbit ears");
  });

  it("lets a trace pass the pore ceiling when the maker sets a threshold, and only then", async () => {
    const parts = [
      { ingredient: "cocoa-butter", percent: 0.9 },
      { ingredient: "shea-butter", percent: 99.1 },
    ];
    const ceiling = { parts, rules: { poreRatingMost: 2 } };
    expect((await answerOf(ceiling))["verdict"]).toBe("refused");
    const rules = { poreRatingMost: 2, poreTraceBelowShare: 100 };
    expect((await answerOf({ parts, rules }))["verdict"]).toBe("orderable");
    expect((await judge({ parts, rules: { ...rules, poreTraceBelowShare: -1 } })).status).toBe(2);
    expect((await judge({ parts, rules: { poreConfidenceLeast: "F" } })).status).toBe(2);
  });

  it("states the error of the oil phase, and gives no figure rather than a guess", async () => {
    const oil = async (id: string) =>
      ((await answerOf({ parts: [{ ingredient: id, percent: 100 }] })) as { oilPhase: unknown })
        .oilPhase;
    expect(await oil("olive-oil")).toMatchObject({
      errorPercent: 15,
      step: "thick",
      leftOnSkinPercent: 0,
      onSkin: "melts on contact",
    });
    expect(await oil("meadowfoam-oil")).toMatchObject({
      viscosityMm2PerS: null,
      errorPercent: null,
      step: null,
    });
  });

  it("puts a blend in the oxidation order with advice, and says when it cannot", async () => {
    const order = async (oil: string) =>
      (
        await answerOf({
          parts: [
            { ingredient: "shea-butter", percent: 70 },
            { ingredient: oil, percent: 30 },
          ],
        })
      )["oxidation"];
    expect(await order("high-oleic-sunflower-oil")).toMatchObject({ order: "steady", unknown: [] });
    expect(await order("rosehip-oil")).toMatchObject({ order: "ordinary" });
    expect(await order("jojoba-oil")).toMatchObject({
      order: "cannot-judge",
      oxidizability: null,
      unknown: ["jojoba-oil"],
    });
    expect(JSON.stringify(await order("rosehip-oil"))).toContain("tocopherol");
  });

  it("takes a lot's measured solid fat beside a library ingredient", async () => {
    const curve = [
      { celsius: 10, percent: 58 },
      { celsius: 20, percent: 44, method: "ISO 8292-1" },
      { celsius: 30, percent: 24 },
    ];
    const lot = (solidFatCurve: unknown) => ({
      parts: [{ ingredient: "shea-butter", percent: 100, solidFatCurve }],
      celsius: [10, 20, 30],
    });
    const { solidFat } = (await answerOf(lot(curve))) as { solidFat: { settled: number }[] };
    expect(solidFat.map(({ settled }) => settled)).toEqual([58, 44, 24]);
  });

  it("keeps two lots of one butter apart, each with its own measured solid fat", async () => {
    const lot = (percent: number, cold: number) => ({
      ingredient: "shea-butter",
      percent,
      solidFatCurve: [
        { celsius: 10, percent: cold },
        { celsius: 30, percent: 10 },
      ],
    });
    const settled = async (...parts: unknown[]) =>
      ((await answerOf({ parts, celsius: [10] })) as { solidFat: { settled: number }[] })
        .solidFat[0]!.settled;
    expect(await settled(lot(50, 80), lot(50, 40))).toBeCloseTo(60, 1);
    expect(await settled(lot(50, 40), lot(50, 80))).toBeCloseTo(60, 1);
  });

  it("judges a jar with wax", async () => {
    const waxed = {
      parts: [
        ...SOFT.parts.slice(0, 3),
        { ingredient: "beeswax", percent: 5 },
        { ingredient: "sunflower-oil", percent: 10 },
      ],
    };
    expect((await answerOf(waxed))["verdict"]).toBe("orderable");
  });

  it("keeps two fats of the same name apart", async () => {
    const hard = { name: "lab", fattyAcids: { "18:0": 60, "18:1": 40 }, percent: 50 };
    const liquid = { name: "lab", fattyAcids: { "18:1": 100 }, percent: 50 };
    const both = await answerOf({ parts: [hard, liquid], celsius: [20] });
    const [point] = both["solidFat"] as { settled: number }[];
    expect(point!.settled).toBeGreaterThan(5);
    expect(point!.settled).toBeLessThan(60);
  });

  it("names the sum when shares do not make 100 %", async () => {
    const parts = [{ ingredient: "shea-butter", percent: 99.5 }];
    const { status, stdout, problem } = await problemOf({ parts });
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
      "a fat told by acids and by species",
      {
        parts: [
          { name: "x", fattyAcids: { "18:1": 100 }, triacylglycerols: { OOO: 100 }, percent: 100 },
        ],
      },
    ],
    [
      "a part that is two things",
      { parts: [{ ingredient: "shea-butter", fattyAcids: {}, percent: 1 }] },
    ],
  ])("exits 2 with a problem for %s", async (_, blend) => {
    const { status, stdout, problem } = await problemOf(blend);
    expect([status, stdout]).toEqual([2, ""]);
    expect(problem.code).toMatch(/^(compose|request)\./);
  });

  it("names the fragrance allergens of a scented jar, and refuses more lemon than skin may meet in the sun", async () => {
    const lemon = (percent: number) =>
      answerOf({
        parts: [
          { ingredient: "shea-butter", percent: 100 - percent },
          { ingredient: "lemon-essential-oil", percent },
        ],
      });
    expect(await lemon(2)).toMatchObject({
      verdict: "orderable",
      fragranceAllergens: {
        ...{ abovePercent: 0.001, untold: [] },
        named: expect.arrayContaining([
          { name: "Citral", lowPercent: 0.016, highPercent: 0.076 },
        ]) as unknown,
      },
    });
    expect(await lemon(2.01)).toMatchObject({
      verdict: "refused",
      findings: expect.arrayContaining([
        expect.objectContaining({ code: "judge.dermal.sun-above-most", measured: 100.5 }),
      ]) as unknown,
    });
  });

  it("names an ingredient nobody knows by a finding", async () => {
    const { problem } = await problemOf({ parts: [{ ingredient: "moon-butter", percent: 100 }] });
    expect(problem).toMatchObject({
      findings: [{ code: "compose.ingredient.unknown", subject: "moon-butter" }],
    });
  });

  it("points at the figure that is none, in the part it stands in", async () => {
    const parts = [{ name: "odd fat", fattyAcids: { "18:1": "a lot" }, percent: 100 }];
    expect((await problemOf({ parts })).problem).toMatchObject({
      errors: [{ pointer: "/parts/0/fattyAcids/18:1" }],
    });
  });

  it("exits 2 for text that is no JSON, a file that is not there, and a command nobody knows", async () => {
    expect(softset(["judge", "-"], "{").status).toBe(2);
    expect(softset(["judge", "/nowhere/blend.json"]).status).toBe(2);
    expect(softset(["judge"]).status).toBe(2);
    expect(softset(["divine"]).status).toBe(2);
    expect(softset(["help"]).status).toBe(0);
  });
});
