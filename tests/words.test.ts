/**
 * Every file of words in every language: the same messages with the same figures as the English one, nothing left in
 * English by accident, the plural forms that the language has, and no claim that nobody may make.
 */
import { existsSync, readFileSync, readdirSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { INGREDIENT_IDS, ingredientById } from "#data/library.ts";
import { nameIn } from "#data/names.ts";

type Messages = { readonly [key: string]: string | Messages };

const OTHERS = ["de", "es", "fr"];
const TOP = new URL("../", import.meta.url);
const FOLDERS = ["core/words/", "widget/words/", "service/words/"];

/** "widget/words/more" for `widget/words/more.en.json`, and "widget/words/" for `widget/words/en.json`. */
const SETS = FOLDERS.filter((folder) => existsSync(new URL(folder, TOP))).flatMap((folder) =>
  readdirSync(new URL(folder, TOP)).flatMap((file) => {
    const found = /^((?:[\w-]+\.)?)en\.json$/.exec(file);
    return found ? [`${folder}${found[1]}`] : [];
  }),
);

/** Words that a language shares with English. */
const SAME = new Set(["Total", "Verdict", "Page", "Signature"]);
/** How a language writes names inside a sentence is a setting, not a sentence. */
const SETTINGS = new Set(["namesInSentence"]);

function messagesOf(set: string, language: string): Map<string, string> {
  const text = readFileSync(new URL(`${set}${language}.json`, TOP), "utf8");
  const flat = (at: string, messages: Messages): [string, string][] =>
    Object.entries(messages).flatMap(([key, value]) =>
      typeof value === "string" ? [[`${at}${key}`, value]] : flat(`${at}${key} / `, value),
    );
  return new Map(flat("", JSON.parse(text) as Messages));
}

/** Figures a message asks for: {name}, or {name, plural, …}. */
function figuresOf(message: string): string[] {
  const names = [...message.matchAll(/\{(\w+)(?:\}|, \w)/g)].map(([, name]) => name!);
  return [...new Set(names)].sort();
}

/** Plural forms that a message tells apart; empty when it tells none. */
function formsOf(message: string): string[] {
  if (!/\{\w+, plural,/.test(message)) return [];
  return [...message.matchAll(/\b(zero|one|two|few|many|other) \{/g)].map(([, form]) => form!);
}

const isInWords = (message: string) => /\p{L}{2}/u.test(message.replaceAll(/\{\w+\}/g, ""));

/** Claims about skin or safety, in any of the languages. "Sure to", as in keeping its body, is none. */
const CLAIMS = [
  /com[eé]dog[eé]n|komedogen/i,
  /hypo-?allerg|hipoalerg/i,
  /(?<!\p{L})(safe|unsafe|safely|sicher|unbedenklich|segur[oa]s?|inofensiv[oa]s?|inoffensi\p{L}+)(?!\p{L})/iu,
  /(?<!\p{L})sûre?s?(?!\p{L}| de )|sans danger|sin riesgo/iu,
  /haltbar bis|à consommer avant|consumir antes|use by|best before/i,
];

it("has sets of words to look at", () => {
  expect(SETS).toEqual(expect.arrayContaining(["core/words/", "widget/words/"]));
});

describe.each(SETS)("%s", (set) => {
  const english = messagesOf(set, "en");

  it("makes no claim about skin, safety or shelf life, in English either", () => {
    const claims = ["en", ...OTHERS].flatMap((language) =>
      [...messagesOf(set, language)].filter(([, said]) => CLAIMS.some((each) => each.test(said))),
    );
    expect(claims).toEqual([]);
  });

  it.each(OTHERS)(
    "has every message of English in %s, and asks for the same figures",
    (language) => {
      const other = messagesOf(set, language);
      expect([...other.keys()].sort()).toEqual([...english.keys()].sort());
      for (const [key, said] of other) {
        expect([key, figuresOf(said)]).toEqual([key, figuresOf(english.get(key)!)]);
      }
    },
  );

  it.each(OTHERS)("left no message in English in %s", (language) => {
    const left = [...messagesOf(set, language)].filter(
      ([key, said]) =>
        said === english.get(key) && isInWords(said) && !SAME.has(said) && !SETTINGS.has(key),
    );
    expect(left).toEqual([]);
  });

  it.each(["en", ...OTHERS])("tells the plural forms apart that %s has", (language) => {
    const { pluralCategories } = new Intl.PluralRules(language).resolvedOptions();
    for (const [key, said] of messagesOf(set, language)) {
      const forms = formsOf(said);
      expect([key, formsOf(english.get(key) ?? "").length > 0]).toEqual([key, forms.length > 0]);
      if (forms.length > 0) {
        expect([key, forms.sort()]).toEqual([key, [...pluralCategories].sort()]);
      }
    }
  });
});

/** How a language sets its marks (French: Imprimerie nationale; no-break, and narrow before the high ones). */
const SLIPS: readonly (readonly [string, RegExp])[] = [
  ["fr", /[^\u202f][;!?](?!\p{L})/u],
  ["fr", /[^\u00a0]:(?=\s|$)|«[^\u00a0]|[^\u00a0]»/],
  ["de", /["”«»]|„[^“]*$/],
  ["es", /["„“”]|(?<!¿[^?]*)\?|(?<!¡[^!]*)!/],
  ...["de", "es", "fr"].map((language) => [language, /\d (%|°C|g\b)|'|\.\.\.| {2}/] as const),
];

describe("marks and spaces", () => {
  it.each(SLIPS)("are set in %s as it sets them: not %s", (language, slip) => {
    const slips = SETS.flatMap((set) => [...messagesOf(set, language)]).filter(([, said]) =>
      slip.test(said.replaceAll(/\{\w+, (plural|select),.*\}/gs, "")),
    );
    expect(slips).toEqual([]);
  });
});

describe("what is called by its label", () => {
  const said = (set: string, language: string, key: string) =>
    messagesOf(set, language).get(key) ?? "missing";

  it.each(["en", ...OTHERS])("is called as it reads in %s", (language) => {
    const field = said("widget/words/more.", language, "open / field");
    expect(said("service/words/", language, "order / codeHint")).toContain(field);
    const again = said("service/words/", language, "order / again");
    expect(said("widget/words/more.", language, "open / reference")).toContain(again);
    const undo = said("widget/words/", language, "blend / undo");
    expect(said("widget/words/more.", language, "wish / taken")).toContain(undo);
  });
});

describe("the core's sentences", () => {
  it.each(["en", ...OTHERS])(
    "hold plain figures alone in %s, since the core has no grammar",
    (language) => {
      for (const set of SETS.filter((each) => each.startsWith("core/"))) {
        for (const [key, said] of messagesOf(set, language)) {
          expect([key, said.replaceAll(/\{\w+\}/g, "")]).toEqual([
            key,
            expect.not.stringMatching(/[{}]/),
          ]);
        }
      }
    },
  );
});

describe("names of ingredients", () => {
  it.each(OTHERS)("are there in %s for all that the library holds", (language) => {
    const unnamed = INGREDIENT_IDS.filter((id) => {
      const { name } = ingredientById(id)!;
      const said = nameIn(language, { name, inci: "INCI" });
      return said === "INCI" || (said === name && id !== "squalane");
    });
    expect(unnamed).toEqual([]);
  });

  it("fall back on English for a language without names, and leave a maker's own name alone", () => {
    const shea = ingredientById("shea-butter")!;
    expect(nameIn("de-AT", shea)).toBe("Sheabutter");
    expect(nameIn("it", shea)).toBe("Shea butter");
    expect(nameIn("de", { ...shea, name: "Karité von Awa" })).toBe("Karité von Awa");
  });
});
