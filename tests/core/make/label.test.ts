import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { WHOLE } from "#core/blend.ts";
import type { Ingredient } from "#core/ingredient.ts";
import { fragranceOf } from "#core/judge/fragrance.ts";
import { carriedBy, carriedNowhere } from "#core/make/label-carries.ts";
import {
  type LabelInput,
  contentText,
  dayWords,
  ingredientsText,
  writeLabel,
} from "#core/make/label.ts";
import { sayGap, stopsPrint } from "#core/make/label-gaps.ts";
import { INGREDIENT_IDS, ingredientById } from "#data/library.ts";
import { LABEL_MARKETS, labelMarket } from "#data/library/label-markets.ts";
import { LABEL_WORDS } from "#data/library/label-words.ts";

const of = (id: string): Ingredient => ingredientById(id)!;
const [eu, gb, us] = LABEL_MARKETS as [LabelMarketOf, LabelMarketOf, LabelMarketOf];
type LabelMarketOf = (typeof LABEL_MARKETS)[number];

const SCENTED = {
  parts: [
    { ingredient: of("shea-butter"), share: 6000 },
    { ingredient: of("sweet-almond-oil"), share: 3900 },
    { ingredient: of("lavender-essential-oil"), share: 100 },
  ],
};

function aLabel(change: Partial<LabelInput> = {}): LabelInput {
  return {
    blend: SCENTED,
    productName: "Everyday butter",
    netG: 120,
    batchNumber: "261125-01",
    market: eu,
    words: [LABEL_WORDS.en],
    panelCm2: 40,
    madeOnISO: "2026-11-25",
    shelfLifeMonths: 9,
    lots: [],
    lotless: [],
    responsible: { name: "Quillfen Workshop", address: "3 Mill Lane,\nNether Wallow" },
    madeIn: { country: "DE", names: ["Germany"] },
    ...change,
  };
}

/** With plain blanks, because those that do not break read the same. */
const textOf = (id: string, change: Partial<LabelInput> = {}) =>
  plain(writeLabel(aLabel(change)).particulars.find((each) => each.id === id)?.text);
const plain = (text: string | undefined) => text?.replaceAll("\u00a0", " ");

const gaps = (change: Partial<LabelInput>) => writeLabel(aLabel(change)).gaps;

describe("the particulars of a label", () => {
  it("are all there for each market, with nothing missing", () => {
    for (const market of LABEL_MARKETS) {
      const contact = "care@quillfen.example";
      const { particulars, gaps: missing } = writeLabel(aLabel({ market, contact }));
      expect(missing).toEqual([]);
      const ids = particulars.map(({ id }) => id);
      expect(market.asks.filter((id) => !ids.includes(id))).toEqual([]);
    }
  });

  it("follow the market: grams or ounces, names of plants, allergens, dates, origin", () => {
    expect(textOf("content")).toBe("120 g");
    expect(textOf("content", { market: us })).toBe("NET WT 4.23 OZ (120 g)");
    expect(textOf("ingredients")).toContain(
      "Butyrospermum Parkii Butter, Prunus Amygdalus Dulcis Oil",
    );
    expect(textOf("ingredients", { market: us })).toContain("Butyrospermum Parkii (Shea) Butter");
    expect(textOf("ingredients")).toContain("Linalool");
    expect(textOf("ingredients", { market: us })).not.toContain("Linalool");
    expect(textOf("durability")).toBe("Best used before the end of 25.08.2027");
    expect(textOf("durability", { market: us })).toContain("Aug 25, 2027");
    expect(textOf("origin")).toBeUndefined();
    expect(textOf("origin", { market: gb })).toBe("Made in Germany");
    expect(textOf("responsible")).toBe("Quillfen Workshop, 3 Mill Lane, Nether Wallow");
  });

  it("stand in every language chosen, and the list once", () => {
    const words = [LABEL_WORDS.fr, LABEL_WORDS.de];
    const madeIn = { country: "US", names: ["États-Unis", "Vereinigte Staaten"] };
    expect(textOf("purpose", { words })).toBe("Beurre corporel fouetté / Geschlagene Körperbutter");
    expect(textOf("precautions", { words })).toMatch(/moins de trois ans\..*unter drei Jahren\.$/);
    expect(textOf("precautions", { words })).toMatch(/fruits à coque.*Schalenfrüchte/);
    expect(textOf("origin", { words, madeIn })).toContain("Herkunftsland: Vereinigte Staaten");
    expect(textOf("ingredients", { words })!.match(/Linalool/g)).toHaveLength(1);
  });

  it("are in the product's own words where it has some, and in the usual ones where not", () => {
    const words = [LABEL_WORDS.en, LABEL_WORDS.de];
    const facts = {
      purpose: { en: "Foot butter" },
      precautions: { en: "Not on a broken heel.", de: "Nicht auf rissige Fersen." },
      ownMonths: [],
    };
    const change = { words, facts, ownPrecautions: "Of the shop." };
    expect(textOf("purpose", change)).toBe("Foot butter / Geschlagene Körperbutter");
    expect(textOf("precautions", change)).toMatch(/heel\. Enthält.*Nicht auf rissige Fersen\.$/);
    expect(textOf("precautions", { words, ownPrecautions: "Of the shop." })).toMatch(/shop\.$/);
    expect(gaps(change).map(sayGap)).toEqual([
      expect.stringContaining("“What it is for” of Everyday butter is written, and not in German."),
    ]);
    const begun = { shelfLifeMonths: 9, ownMonths: ["shelfLifeMonths" as const] };
    expect(gaps({ facts: begun }).map(sayGap)).toEqual([
      expect.stringContaining("nobody has said since how it is known"),
    ]);
    expect(gaps(change).some(stopsPrint)).toBe(false);
  });

  it("name figures as high as the law asks, by content or by panel", () => {
    const heightOf = (change: Partial<LabelInput>) =>
      writeLabel(aLabel(change)).particulars.find(({ id }) => id === "content")!.figureMm;
    expect([50, 51, 200, 201, 1000, 1001].map((netG) => heightOf({ netG }))).toEqual([
      2, 3, 3, 4, 4, 6,
    ]);
    const sixteenths = (panelCm2: number) =>
      Math.round((heightOf({ market: us, panelCm2 })! / 25.4) * 16 * 1e6) / 1e6;
    expect([32, 33, 161, 162, 645, 646].map(sixteenths)).toEqual([1, 2, 2, 3, 3, 4]);
  });

  it("leave out the content of what is too little to be told, in the EU", () => {
    expect(textOf("content", { netG: 4 })).toBeUndefined();
    expect(textOf("content", { netG: 5 })).toBe("5 g");
  });

  it("are listed when they are missing, in a sentence that says what to do", () => {
    const nameless = { ...of("shea-butter"), inci: " " };
    const blend = { parts: [{ ingredient: nameless, share: 6000 }, ...SCENTED.parts.slice(1)] };
    expect(gaps({ blend }).map(sayGap)).toEqual([
      expect.stringContaining("Shea butter has no INCI name"),
    ]);
    expect(gaps({ responsible: undefined }).map(sayGap)).toEqual([
      "No responsible person for the European Union. Write name and address in the label settings.",
    ]);
    const { holds: _holds, ...untold } = of("lavender-essential-oil").aromatic!;
    const secret = { ...of("lavender-essential-oil"), aromatic: untold };
    const unknown = { parts: [...SCENTED.parts.slice(0, 2), { ingredient: secret, share: 100 }] };
    expect(gaps({ blend: unknown }).map(({ code }) => code)).toEqual(["label.composition.missing"]);
    expect(gaps({ blend: unknown, market: us, contact: "x@y.example" })).toEqual([]);
    expect(gaps({ market: us }).map(({ code }) => code)).toEqual(["label.contact.missing"]);
    expect(gaps({ market: us, madeIn: { country: "US", names: ["United States"] } })).toEqual([]);
    expect(gaps({ responsible: undefined }).some(stopsPrint)).toBe(false);
  });
});

describe("the net weight in ounces", () => {
  it.each([
    [28, "NET WT 0.98 OZ (28 g)"],
    [60, "NET WT 2.11 OZ (60 g)"],
    [454, "NET WT 16.01 OZ (1 LB 0.01 OZ) 454 g"],
  ])("%d g are %s", (grams, words) =>
    expect(plain(contentText(grams, "ounces-and-grams"))).toBe(words),
  );

  it("never says more than the grams", () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 5000 }), (grams) => {
        const ounces = Number(
          /NET\u00a0WT\u00a0([\d.]+)\u00a0OZ/.exec(contentText(grams, "ounces-and-grams"))![1],
        );
        expect(ounces * 28.349523125).toBeLessThanOrEqual(grams + 1e-6);
        expect(ounces * 28.349523125).toBeGreaterThan(grams - 0.29);
      }),
    );
  });
});

it("writes days in the order of the market", () => {
  expect(dayWords("2027-08-05", "day-month-year")).toBe("05.08.2027");
  expect(dayWords("2027-08-05", "month-word-day-year")).toBe("Aug 5, 2027");
});

describe("any blend of the library", () => {
  const blends = fc
    .uniqueArray(fc.constantFrom(...INGREDIENT_IDS), { minLength: 1, maxLength: 12 })
    .chain((ids) =>
      fc
        .array(fc.integer({ min: 1, max: 3000 }), { minLength: ids.length, maxLength: ids.length })
        .map((shares) => ({
          parts: ids.map((id, at) => ({ ingredient: of(id), share: shares[at]! })),
        })),
    );
  const bare = (inci: string) => inci.replace(/ \([^()]*\)/g, "");

  it("is declared in the order of mass", () => {
    fc.assert(
      fc.property(blends, (blend) => {
        const masses = new Map<string, number>();
        for (const { ingredient, share } of blend.parts) {
          const name = bare(ingredient.inci);
          masses.set(name, (masses.get(name) ?? 0) + share);
        }
        const listed = ingredientsText({ blend, market: eu })
          .slice("Ingredients: ".length)
          .split(", ")
          .slice(0, masses.size);
        expect(new Set(listed)).toEqual(new Set(masses.keys()));
        const inOrder = listed.map((name) => masses.get(name)!);
        expect(inOrder).toEqual([...inOrder].sort((one, other) => other - one));
      }),
    );
  });

  it("names every fragrance allergen above the threshold, and none below", () => {
    const all = new Set(
      INGREDIENT_IDS.flatMap((id) => {
        const { holds = [], listedAs } = of(id).aromatic ?? {};
        const held = holds.filter(({ isListed }) => isListed).map(({ name }) => name);
        return [...held, ...(listedAs ? [listedAs] : [])];
      }),
    );
    fc.assert(
      fc.property(blends, fc.integer({ min: 0, max: 20 }), (blend, few) => {
        // So little of an oil that some of what it holds stays under the threshold.
        const scented = { ingredient: of("lavender-essential-oil"), share: few };
        const others = blend.parts.filter(
          ({ ingredient }) => ingredient.id !== scented.ingredient.id,
        );
        const whole = { parts: [...others, scented] };
        const listed = new Set(ingredientsText({ blend: whole, market: eu }).split(/, |: /));
        const inci = new Set(
          whole.parts
            .filter(({ share }) => share > 0)
            .map(({ ingredient }) => bare(ingredient.inci)),
        );
        const above = new Set(fragranceOf(whole).named.map(({ name }) => name));
        for (const name of all) {
          if (above.has(name)) expect(listed).toContain(name);
          else if (!inci.has(name)) expect(listed).not.toContain(name);
        }
      }),
    );
  });

  it("puts colourants last, whatever their mass", () => {
    const mica = { ...of("tapioca-starch"), id: "red", inci: "CI 77491" };
    const parts = [
      { ingredient: mica, share: 5000 },
      { ingredient: of("shea-butter"), share: WHOLE - 5000 },
    ];
    expect(ingredientsText({ blend: { parts }, market: eu })).toBe(
      "Ingredients: Butyrospermum Parkii Butter, CI 77491",
    );
  });
});

describe("labels that share the particulars", () => {
  const { particulars } = writeLabel(aLabel());

  it("carry all of them between front and back", () => {
    const ids = new Set(
      [...carriedBy("front", particulars), ...carriedBy("back", particulars)].map(({ id }) => id),
    );
    expect(ids).toEqual(new Set(particulars.map(({ id }) => id)));
  });

  it("are told what none of them carries", () => {
    expect(carriedNowhere(eu, ["front", "back"])).toEqual([]);
    expect(carriedNowhere(eu, ["without-list"]).map(sayGap)).toEqual([
      expect.stringContaining("No label of yours carries “Ingredients” for the European Union."),
    ]);
    expect(carriedNowhere(labelMarket("eu")!, ["without-list", "list"])).toEqual([]);
  });
});
