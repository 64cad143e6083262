import { describe, expect, it } from "vitest";
import type { Judgement } from "#core/judge/verdict.ts";
import { formatsFor } from "#widget/formats.ts";
import { noAnswer, refused } from "#widget/troubles.ts";
import { sayFamily, sayFirmness, saySettling } from "#widget/words.ts";

const formats = formatsFor("en-GB", { code: "GBP", exponent: 2 });

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
    expect(plain(sayFirmness(aJudgement("soft", "soft", 29.6), formats))).toBe(
      "Sets soft and scoopable at 21 °C; holds its body to about 30 °C",
    );
  });

  it("names both classes when the band reaches two", () => {
    expect(plain(sayFirmness(aJudgement("soft", "firm", 31), formats))).toMatch(
      /^Sets soft to firm/,
    );
  });

  it("promises no warmth to a blend that stays runny", () => {
    expect(plain(sayFirmness(aJudgement("fluid", "fluid", 12), formats))).toBe(
      "Stays runny at 21 °C",
    );
  });

  it("says so when nothing is known", () => {
    expect(sayFirmness(undefined, formats)).toBe("How this one sets is not known");
    expect(saySettling(undefined)).toBe("");
  });

  it("says that it firms up when it settles in a harder class than it was whipped", () => {
    expect(saySettling(aJudgement("firm", "firm", 31))).toMatch(/^Freshly whipped it is soft/);
  });
});

describe("sentences about troubles", () => {
  it("say what happened, what is kept and what to do", () => {
    expect(noAnswer("quote", "slow").sentence).toBe(
      "The shop took too long to answer. Your blend is kept and nothing has been ordered. Please try again.",
    );
    expect(noAnswer("order", "offline").sentence).toContain("cannot order twice");
  });

  it("are not certain that nothing was done when the service failed, and certain when it refused", () => {
    const problem = { type: "about:blank", title: "Gone", status: 410, detail: "Gone.", code: "x" };
    expect(refused("order", 503, undefined).certain).toBe(false);
    expect(refused("order", 410, problem)).toMatchObject({ certain: true, code: "x" });
    expect(refused("order", 429, problem).certain).toBe(false);
  });

  it("carry the sentences of the findings where a blend was refused", () => {
    const found = { code: "compose.oil.not-allowed", subject: "x", mend: "customer" } as const;
    const problem = {
      type: "about:blank",
      title: "Refused",
      status: 422,
      detail: "The blend cannot be ordered.",
      code: "judge.blend.refused",
      findings: [{ ...found, sentence: "It may set too hard." }],
    };
    expect(refused("quote", 422, problem).sentence).toMatch(
      /^It may set too hard\. Your blend is kept/,
    );
  });
});

describe("allergen families and numbers", () => {
  it("names known families in plain words and unknown ones as they are written", () => {
    expect(sayFamily("tree-nut")).toBe("tree nuts");
    expect(sayFamily("stone-fruit")).toBe("stone fruit");
  });

  it("shows minor units by the exponent of the currency", () => {
    expect(formats.money(1150)).toBe("£11.50");
    expect(formatsFor("en-GB", { code: "KWD", exponent: 3 }).money(1150)).toContain("1.150");
    expect(formats.percent(5425)).toBe("54.25%");
  });
});
