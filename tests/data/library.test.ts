/**
 * The library holds what the design lists, and no figure without a source. Every check that walks
 * the records is also run on a record broken on purpose, so that it is known to complain.
 */
import { describe, expect, it } from "vitest";
import { compositionFindings } from "#core/judge/composition.ts";
import { INGREDIENT_IDS, ingredientById, recordOf } from "#data/library.ts";
import { DERMAL_LIMITS } from "#data/library/dermal-limits.ts";
import type { RecordedIngredient } from "#data/library/record.ts";
import { SOURCES } from "#data/sources.ts";
import { complaintsAbout, figuresOf, sourcesNamed } from "./walk-figures.ts";

const LISTED = `
  cocoa-butter shea-butter shea-butter-nilotica shea-olein mango-butter kokum-butter illipe-butter sal-butter
  cupuacu-butter murumuru-butter tucuma-butter babassu-oil coconut-oil palm-kernel-oil palm-oil
  fractionated-coconut-oil jojoba-oil sunflower-oil high-oleic-sunflower-oil safflower-oil high-oleic-safflower-oil
  sweet-almond-oil apricot-kernel-oil avocado-oil olive-oil grapeseed-oil rice-bran-oil sesame-oil argan-oil
  macadamia-oil hemp-seed-oil rosehip-oil camellia-oil castor-oil meadowfoam-oil marula-oil baobab-oil moringa-oil
  evening-primrose-oil borage-oil canola-oil soybean-oil hazelnut-oil squalane beeswax candelilla-wax carnauba-wax
  stearic-acid cetyl-alcohol tapioca-starch arrowroot corn-starch tocopherol rosemary-extract
  lavender-essential-oil sweet-orange-essential-oil lemon-essential-oil peppermint-essential-oil
  tea-tree-essential-oil geranium-essential-oil patchouli-essential-oil cedarwood-essential-oil
  ylang-ylang-essential-oil eucalyptus-essential-oil`
  .trim()
  .split(/\s+/);

const records = INGREDIENT_IDS.map((id) => recordOf(id)!);
const known = new Set(Object.keys(SOURCES));
const shea = recordOf("shea-butter")!;

describe("the library", () => {
  it("holds every ingredient of the list", () => {
    expect(LISTED.filter((id) => !ingredientById(id))).toEqual([]);
  });

  it("gives each id once, in kebab case", () => {
    expect(new Set(INGREDIENT_IDS).size).toBe(INGREDIENT_IDS.length);
    expect(INGREDIENT_IDS.filter((id) => !/^[a-z]+(-[a-z]+)*$/.test(id))).toEqual([]);
  });

  it("knows nothing of an ingredient it does not hold", () => {
    expect(ingredientById("unobtainium-butter")).toBeUndefined();
    expect(recordOf("unobtainium-butter")).toBeUndefined();
  });

  it("hands out the same object every time, so that the core remembers", () => {
    expect(ingredientById("shea-butter")!.composition).toBe(
      ingredientById("shea-butter")!.composition,
    );
  });

  it("hands the core the recorded figures and no source", () => {
    const plain = ingredientById("shea-butter")!;
    expect(plain.composition).toMatchObject({
      kind: "fatty-acids",
      family: "seed",
      unsaponifiablePercent: 5,
    });
    expect(sourcesNamed(plain)).toEqual([]);
    expect(ingredientById("jojoba-oil")!.measured!.iodineValue).toBe(81.7);
    expect(ingredientById("rosehip-oil")!.addBelowC).toBe(45);
    expect(ingredientById("jojoba-oil")!.setsBelowC).toBe(10.6);
    expect(ingredientById("shea-butter")!.setsBelowC).toBeUndefined();
    expect(ingredientById("illipe-butter")!.poreRating).toEqual({ rated: false });
  });

  it("tells the core what kind of evidence a pore rating rests on, and how well it is known", () => {
    const rating = (id: string) => ingredientById(id)!.poreRating;
    expect(rating("stearic-acid")).toMatchObject({ evidence: "assay-read", confidence: "A" });
    expect(rating("cocoa-butter")).toMatchObject({
      value: 4,
      evidence: "assay-copied",
      confidence: "B",
    });
    expect(rating("shea-butter")).toMatchObject({ evidence: "trade-pages", confidence: "C" });
    expect(rating("meadowfoam-oil")).toMatchObject({ evidence: "recalled", confidence: "E" });
  });
});

describe("provenance", () => {
  it("stands beside every figure", () => {
    expect(records.flatMap((r) => complaintsAbout(figuresOf(r, r.id), known))).toEqual([]);
    const limits = figuresOf(DERMAL_LIMITS, "dermal limits");
    expect(limits.length).toBeGreaterThan(40);
    expect(complaintsAbout(limits, known)).toEqual([]);
  });

  it("is missed when a figure has none", () => {
    const broken = { ...shea, shelfMonths: { low: 12, high: 24 } };
    expect(complaintsAbout(figuresOf(broken, "broken"), known)).toEqual([
      "broken.shelfMonths.low has no source",
      "broken.shelfMonths.high has no source",
    ]);
  });

  it("is refused when it names a source that is not listed", () => {
    const broken = { ...shea, inci: { text: "Made Up", source: "hearsay" } };
    expect(complaintsAbout(figuresOf(broken, "broken"), known)).toEqual([
      "broken.inci.text names the unknown source hearsay",
    ]);
  });

  it("uses every source of the list", () => {
    const named = new Set([...records, ...DERMAL_LIMITS].flatMap(sourcesNamed));
    expect([...known].filter((key) => !named.has(key))).toEqual([]);
  });

  it("marks a recalled composition as recalled in its reason", () => {
    const silent = records.filter(({ composition: { chosen, why } }) => {
      if (!("source" in chosen)) return false;
      return SOURCES[chosen.source].trust === "from memory" && !/recalled/i.test(why);
    });
    expect(silent.map(({ id }) => id)).toEqual([]);
  });
});

/** What is wrong with the figures of a record, in words. */
function insane(record: RecordedIngredient): string[] {
  const { id, poreRating: rating } = record;
  const wrong: string[] = [];
  const check = (holds: boolean, words: string) => void (holds || wrong.push(`${id}: ${words}`));
  if (rating.rated) {
    check(rating.low >= 0 && rating.high <= 5, "pore rating outside 0 to 5");
    check(
      rating.low <= rating.value && rating.value <= rating.high,
      "pore rating outside its span",
    );
  }
  for (const key of [
    "iodineValue",
    "saponificationValue",
    "unsaponifiablePercent",
    "meltingC",
  ] as const) {
    for (const { low, high } of record[key] ?? []) check(low <= high, `${key} turned round`);
  }
  for (const { low, high } of record.density ?? []) {
    check(low <= high && low > 0.8 && high < 1, "density no oil has");
  }
  for (const [low, high] of Object.values(record.fattyAcidRanges?.percent ?? {})) {
    check(0 <= low && low <= high && high <= 100, "fatty acid range turned round");
  }
  const { shelfMonths, usePercent } = record;
  check(0 < shelfMonths.low && shelfMonths.low <= shelfMonths.high, "shelf months turned round");
  check(0 < usePercent.low && usePercent.low <= usePercent.high, "use range turned round");
  check(usePercent.high <= 100, "use above the whole");
  check(record.inci.text.trim() !== "", "no label name");
  check(Boolean(record.appearance.refined ?? record.appearance.unrefined), "no scent and colour");
  check(record.composition.why.trim() !== "", "no reason for its composition");
  return wrong;
}

describe("figures", () => {
  it("are sane in every record", () => {
    expect(records.flatMap(insane)).toEqual([]);
  });

  it("are caught when they are not", () => {
    const broken: RecordedIngredient = {
      ...shea,
      inci: { text: " ", source: "recalled" },
      poreRating: { ...shea.poreRating, rated: true, value: 6, low: 0, high: 2 } as never,
      usePercent: { low: 10, high: 5, source: "recalled" },
      iodineValue: [{ low: 75, high: 30, source: "recalled" }],
    };
    expect(insane(broken)).toEqual([
      "shea-butter: pore rating outside its span",
      "shea-butter: iodineValue turned round",
      "shea-butter: use range turned round",
      "shea-butter: no label name",
    ]);
  });

  it("make compositions the core accepts, every one", () => {
    const refused = INGREDIENT_IDS.filter(
      (id) => compositionFindings(ingredientById(id)!).length > 0,
    );
    expect(refused).toEqual([]);
  });

  it("give each wax its least gelling share, and more structure to what gels at less", () => {
    const waxes = records.filter(({ kind }) => kind === "wax");
    expect(waxes.map(({ id }) => id)).toEqual(["beeswax", "candelilla-wax", "carnauba-wax"]);
    for (const { composition } of waxes) {
      if (composition.chosen.kind !== "wax") throw new Error("a wax is recorded as a wax");
      const gels = composition.inOil!.gellingPercent.map(({ low }) => low);
      expect(Math.min(...gels) < 3).toBe(composition.chosen.structure > 1);
    }
  });

  it("say how far the solids of a butter stray: mango and shea more than cocoa and coconut", () => {
    const spread = (id: string) => ingredientById(id)!.compositionSpread!;
    expect(Math.min(spread("mango-butter"), spread("shea-butter"))).toBeGreaterThan(0.15);
    expect(Math.max(spread("cocoa-butter"), spread("coconut-oil"))).toBeLessThan(0.07);
  });

  it("give the small crystals the values their formulas say: one acid group, or none", () => {
    const acid = recordOf("stearic-acid")!;
    if (acid.composition.chosen.kind !== "wax") throw new Error("it is recorded as a crystal");
    const { molarMass } = acid.composition.chosen;
    const values = (id: string) => ingredientById(id)!.measured;
    expect(values("stearic-acid")!.saponificationValue).toBeCloseTo(56_105 / molarMass, 1);
    expect(values("stearic-acid")!.iodineValue).toBe(0);
    expect(values("cetyl-alcohol")).toEqual({ iodineValue: 0, saponificationValue: 0 });
  });

  it("give the unusual liquids a measured viscosity of their own", () => {
    for (const id of ["castor-oil", "fractionated-coconut-oil", "squalane", "jojoba-oil"]) {
      expect(ingredientById(id)!.measured!.viscosityMm2PerS, id).toBeGreaterThan(10);
    }
  });
});
