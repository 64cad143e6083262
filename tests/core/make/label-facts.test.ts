import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { LabelFacts } from "#core/compose/product.ts";
import { factsInForce, openIn } from "#core/make/label-facts.ts";
import { sayGap } from "#core/make/label-gaps.ts";
import { LABEL_WORDS } from "#data/library/label-words.ts";

const SHOP = { shelfLifeMonths: 9, openMonths: 6 };

describe("what holds for a jar", () => {
  it("is the shop's where no version says anything", () => {
    expect(factsInForce([{}, {}], SHOP)).toEqual({ ...SHOP, ownMonths: [] });
    expect(factsInForce([{}], {})).toEqual({ ownMonths: [] });
  });

  it("is in the words of the last version, also where that has none", () => {
    const one = { purpose: { en: "Hand butter" }, precautions: { en: "Not for the eyes." } };
    const two = { purpose: { en: "Hand and foot butter" } };
    expect(factsInForce([one, two], {})).toEqual({ ...two, ownMonths: [] });
    expect(factsInForce([two, one], {})).toEqual({ ...one, ownMonths: [] });
  });

  it("lasts as long as its own version says, and no longer by a later one", () => {
    const six: LabelFacts = { shelfLifeMonths: 6, monthsFrom: "kept-jars" };
    const twelve: LabelFacts = { shelfLifeMonths: 12, monthsFrom: "safety-assessment" };
    const months = (...versions: LabelFacts[]) => factsInForce(versions, SHOP).shelfLifeMonths;
    expect(months(six)).toBe(6);
    expect(months(six, twelve)).toBe(6);
    expect(months(twelve, six, twelve)).toBe(6);
    // The first is from before products had months: it went by the shop's nine.
    expect(months({}, twelve)).toBe(9);
  });

  it("tells the product's own months from the shop's, figure by figure", () => {
    const twelve: LabelFacts = { shelfLifeMonths: 12, monthsFrom: "safety-assessment" };
    const own = (...versions: LabelFacts[]) => factsInForce(versions, SHOP).ownMonths;
    expect(own(twelve)).toEqual(["shelfLifeMonths"]);
    expect(own({ ...twelve, openMonths: 3 })).toEqual(["shelfLifeMonths", "openMonths"]);
    // The shop's nine are fewer, and nobody said them of this product.
    expect(own({}, twelve)).toEqual([]);
    expect(own({}, { ...twelve, shelfLifeMonths: 8 })).toEqual(["shelfLifeMonths"]);
  });

  it("never lasts longer than any version says", () => {
    const months = fc.option(fc.integer({ min: 1, max: 60 }), { nil: undefined });
    const facts = fc.array(months, { minLength: 1, maxLength: 6 });
    fc.assert(
      fc.property(facts, months, (all, ofShop) => {
        const versions = all.map((each) => (each === undefined ? {} : { shelfLifeMonths: each }));
        const shop = ofShop === undefined ? {} : { shelfLifeMonths: ofShop };
        const said = all.map((each) => each ?? ofShop).filter((each) => each !== undefined);
        const { shelfLifeMonths } = factsInForce(versions, shop);
        if (said.length === 0) expect(shelfLifeMonths).toBeUndefined();
        else expect(said.every((each) => shelfLifeMonths! <= each)).toBe(true);
      }),
    );
  });
});

describe("what a product leaves open", () => {
  const codes = (versions: LabelFacts[], languages: ("en" | "de")[] = ["en", "de"]) =>
    openIn(
      factsInForce(versions, SHOP),
      languages.map((each) => LABEL_WORDS[each]),
      "Everyday butter",
    ).map(({ code, figures }) => [code, figures["languages"]]);

  it("is nothing while it says nothing, or all of it", () => {
    expect(codes([{}])).toEqual([]);
    expect(codes([{ purpose: { en: "Hand butter", de: "Handbutter" } }])).toEqual([]);
    expect(codes([{ purpose: { en: "Hand butter" } }], ["en"])).toEqual([]);
  });

  it("is a language that a text was not written in", () => {
    expect(
      codes([{ purpose: { en: "Hand butter" }, precautions: { de: "Nicht ins Auge." } }]),
    ).toEqual([
      ["label.words.untold", "German"],
      ["label.words.untold", "English"],
    ]);
  });

  it("names the languages together", () => {
    const facts = factsInForce([{ purpose: { es: "Manteca de manos" } }], {});
    const languages = [LABEL_WORDS.en, LABEL_WORDS.de, LABEL_WORDS.es];
    expect(openIn(facts, languages, "Everyday butter").map(sayGap)).toEqual([
      "“What it is for” of Everyday butter is written, and not in English, German. " +
        "Write it on the product’s label sheet and publish it.",
    ]);
  });

  it("is how its own months are known, until one version says so", () => {
    expect(codes([{ shelfLifeMonths: 9 }])).toEqual([["label.months.unproven", undefined]]);
    const known: LabelFacts = { shelfLifeMonths: 9, monthsFrom: "kept-jars" };
    expect(codes([{ shelfLifeMonths: 9 }, known])).toEqual([]);
    // What is printed are the shop's fewer months, which it never took over.
    expect(codes([{}, { shelfLifeMonths: 12 }])).toEqual([]);
  });
});
