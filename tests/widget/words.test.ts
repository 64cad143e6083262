import { describe, expect, it } from "vitest";
import type { Judgement } from "#core/judge/verdict.ts";
import { nameFamily } from "#core/words/words.ts";
import { sayFirmness, saySettling } from "#widget/sayings.ts";
import { type Trouble, noAnswer, refused } from "#widget/troubles.ts";
import { inEnglish } from "../helpers/language.ts";

const english = inEnglish();
const say = (trouble: Trouble) => trouble.say(english, (id) => `the ${id}`);

function aJudgement(lowest: string, highest: string, softensAboveCelsius?: number): Judgement {
  const classes = { fresh: "soft", settled: lowest, lowest, highest };
  return {
    solidFat: [],
    firmness: { celsius: 21, yieldPa: 30_000, ...classes } as NonNullable<Judgement["firmness"]>,
    ...(softensAboveCelsius === undefined ? {} : { softensAboveCelsius }),
    poreRating: { unrated: [] },
    verdict: "orderable",
    findings: [],
  };
}
const plain = (text: string) => text.replace(/\s/g, " ");

describe("sentences about firmness", () => {
  it("says how it sets and to what warmth it holds, in whole degrees", () => {
    expect(plain(sayFirmness(aJudgement("soft", "soft", 29.6), english))).toBe(
      "Sets soft and scoopable at 21 °C; holds its body to about 30 °C",
    );
  });

  it("names both classes when the band reaches two", () => {
    expect(plain(sayFirmness(aJudgement("soft", "firm", 31), english))).toMatch(
      /^Sets soft to firm/,
    );
  });

  it("promises no warmth to a blend that stays runny", () => {
    expect(plain(sayFirmness(aJudgement("fluid", "fluid", 12), english))).toBe(
      "Stays runny at 21 °C",
    );
  });

  it("says so when nothing is known", () => {
    expect(sayFirmness(undefined, english)).toBe("How this one sets is not known");
    expect(saySettling(undefined, english)).toBe("");
  });

  it("says that it firms up when it settles in a harder class than it was whipped", () => {
    expect(saySettling(aJudgement("firm", "firm", 31), english)).toMatch(
      /^Freshly whipped it is soft/,
    );
  });
});

describe("sentences about troubles", () => {
  it("say what happened, what is kept and what to do", () => {
    expect(say(noAnswer("quote", "slow"))).toBe(
      "The shop took too long to answer. Your blend is kept and nothing has been ordered. Please try again.",
    );
    expect(say(noAnswer("order", "offline"))).toContain("cannot order twice");
  });

  it("are not certain that nothing was done when the service failed, and certain when it refused", () => {
    const problem = { type: "about:blank", title: "Gone", status: 410, detail: "Gone.", code: "x" };
    expect(refused("order", 503, undefined).certain).toBe(false);
    expect(refused("order", 410, problem)).toMatchObject({ certain: true, code: "x" });
    expect(refused("order", 429, problem).certain).toBe(false);
  });

  it("say the findings of a refused blend themselves, and those they do not know as the service did", () => {
    const known = { code: "compose.oil.not-allowed", subject: "oil", mend: "customer" } as const;
    const found = { code: "make.batch.impossible", subject: "x", mend: "maker" } as const;
    const problem = {
      type: "about:blank",
      title: "Refused",
      status: 422,
      detail: "The blend cannot be ordered.",
      code: "judge.blend.refused",
      findings: [
        { ...known, sentence: "oil is not offered" },
        { ...found, sentence: "It may set too hard." },
      ],
    };
    expect(say(refused("quote", 422, problem))).toMatch(
      /^the oil is not one of the oils offered here\. It may set too hard\. Your blend is kept/,
    );
  });
});

describe("allergen families and numbers", () => {
  it("names known families in plain words and unknown ones as they are written", () => {
    expect(nameFamily("tree-nut")).toBe("tree nuts");
    expect(nameFamily("stone-fruit")).toBe("stone fruit");
  });

  it("shows minor units by the exponent of the currency", () => {
    expect(english.money(1150)).toBe("£11.50");
    expect(inEnglish({ code: "KWD", exponent: 3 }).money(1150)).toContain("1.150");
    expect(english.percent(5425)).toBe("54.25%");
  });
});
