/**
 * How papers speak: figures and ranges as each language writes them, every caution and step in every language, and
 * older sheets in the words they were issued in.
 */
import { describe, expect, it } from "vitest";
import { CAUTION_CODES } from "#core/make/cautions.ts";
import { ADVICE_CODES } from "#core/make/net-content-advice.ts";
import { BLANKS } from "#core/make/steps.ts";
import { makeWorkOrder } from "#core/make/work-order.ts";
import { sayAdvice } from "#service/batches/net-content-words.ts";
import { readSheets } from "#service/batches/sheets.ts";
import { sheetsModel } from "#service/documents/batch-sheets.ts";
import { sayCaution, sayStep, tongueOf } from "#service/documents/tongue.ts";
import { BENCH_LANGUAGES, paperLocale } from "#service/words/bench-languages.ts";
import { aWorkOrderInput } from "../../helpers/work-orders.ts";

const SPACE = "\u00a0";

describe("figures", () => {
  it.each([
    ["en-GB", "12.05", "1008.0", "78 to 81", "below 45", "24 to 48", "-1"],
    ["de-AT", "12,05", "1008,0", "78 bis 81", "unter 45", "24 bis 48", "-1"],
    ["de-CH", "12.05", "1008.0", "78 bis 81", "unter 45", "24 bis 48", "-1"],
    ["fr", "12,05", "1008,0", "78 à 81", "sous 45", "24 à 48", "-1"],
    ["es", "12,05", "1008,0", "78 a 81", "menos de 45", "24 a 48", "-1"],
  ])(
    "are written in %s as its readers write them",
    (locale, share, grams, range, below, hours, cold) => {
      const tongue = tongueOf(locale);
      expect(tongue.percent(1205)).toBe(`${share}${SPACE}%`);
      expect(tongue.digits("1008.0")).toBe(grams);
      expect(tongue.celsiusRange({ least: 78, greatest: 81 })).toBe(`${range}${SPACE}°C`);
      expect(tongue.celsiusRange({ greatest: 45 })).toBe(`${below}${SPACE}°C`);
      expect(tongue.celsiusRange({ least: 20, greatest: 20 })).toBe(`20${SPACE}°C`);
      expect(tongue.minutesRange({ least: 1440, greatest: 2880 })).toBe(`${hours}${SPACE}h`);
      expect(tongue.celsius(-0.5)).toBe(`${cold}${SPACE}°C`);
      expect(tongue.celsius(27.99)).toBe(`27${SPACE}°C`);
      expect(() => tongue.celsiusRange({})).toThrow("range");
    },
  );
});

describe("a paper without a language of its own", () => {
  it.each([
    [undefined, "de-AT", "de-AT"],
    [undefined, "it-IT", "en-GB"],
    ["de", "de-AT", "de-AT"],
    ["fr", "de-AT", "fr"],
    ["en", "en-US", "en-US"],
    ["en", "es-MX", "en-GB"],
  ] as const)("asked for %s in a shop of %s speaks %s", (language, shop, spoken) => {
    expect(paperLocale(language, shop)).toBe(spoken);
  });
});

describe.each(BENCH_LANGUAGES)("in %s", (language) => {
  const tongue = tongueOf(paperLocale(language, "en-GB"));
  const nameOf = (id: string) => `<${id}>`;
  const figures = {
    ...{ celsius: 78, percent: 6, cupMl: 100, cupG: 59, leastG: 56, greatestG: 62 },
    ...{ densityGPerMl: 0.6, overrunPercent: 54 },
    ...({ firmness: "soft", lowest: "fluid", highest: "firm" } as const),
    ingredients: ["shea-butter", "jojoba-oil"],
    families: [{ family: "tree-nut", ingredients: ["sweet-almond-oil"] }],
  };

  it("has words for every caution, none with a hole in it", () => {
    const said = CAUTION_CODES.map((code) =>
      sayCaution(tongue, nameOf, { code, at: "weigh", figures }),
    );
    expect(new Set(said).size).toBe(CAUTION_CODES.length);
    for (const each of said) expect(each).not.toMatch(/[{}]|undefined/);
    expect(() =>
      sayCaution(tongue, nameOf, { code: "hot-fat.scald", at: "melt", figures: {} }),
    ).toThrow();
  });

  it("has words for every blank and every finding on filled jars", () => {
    for (const id of Object.keys(BLANKS) as (keyof typeof BLANKS)[]) {
      const { title, blanks } = sayStep(tongue, nameOf, { id, sentences: [], cautions: [] }, 7);
      for (const each of [title, ...blanks.map(({ label }) => label)]) {
        expect(each).toMatch(/\p{L}/u);
      }
    }
    const names = ["mean", "below", "label", "step", "error", "needed", "missing"];
    const massesMg = Object.fromEntries(names.map((name) => [name, 114_650]));
    const counts = { weighed: 20, short: 0, needed: 30, most: 0 };
    const jars = [{ place: 19, mg: 108_000 }];
    for (const code of ADVICE_CODES) {
      // "needed" is a count where jars are missing and a mass where grams are.
      const masses = code === "too-few" ? {} : massesMg;
      const given = { code, massesMg: masses, counts: code === "average" ? {} : counts, jars };
      const said = sayAdvice({ ...given, more: 3 }, tongue);
      expect(said).not.toMatch(/[{}]|undefined/);
      if (code === "too-few") expect(said).toContain("30");
      if (code === "not-for-sale") expect(said).toMatch(/19 \(108.g\)/);
      if (code === "holds") expect(said).toContain(language === "en" ? "114.65" : "114,65");
    }
  });

  it("prints an older sheet in the English it was issued in, and the rest in its own words", () => {
    const made = makeWorkOrder(aWorkOrderInput());
    if ("findings" in made) throw new Error(made.findings[0]!.code);
    const { workOrder } = made;
    const sentence = "Keep every drop of water out.";
    const [weigh, ...steps] = workOrder.steps;
    const older = {
      ...workOrder,
      steps: [
        {
          ...weigh!,
          title: "Weigh",
          sentences: ["Clear it."],
          cautions: [{ at: "weigh", code: "bench.water", sentence }],
        },
        ...steps,
      ],
    };
    const { runs } = readSheets(JSON.stringify({ runs: [{ workOrder: older, loads: 1 }] }));
    const page = { stylesheets: [], locale: tongue.locale, practice: false };
    const [sheet] = sheetsModel(runs, page).sheets;
    expect(sheet!.weigh).toMatchObject({ words: "Clear it.", cautions: [sentence] });
    expect(sheet!.weigh!.title).toBe(tongue.say("step.weigh"));
  });
});
