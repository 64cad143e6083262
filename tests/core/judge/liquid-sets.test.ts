import { describe, expect, it } from "vitest";
import { settingFindings } from "#core/judge/liquid-sets.ts";
import { judgeInFull } from "#core/judge/whole-judgement.ts";
import { libraryBlend } from "../../helpers/library-blend.ts";

const jojoba = (percent: number) =>
  libraryBlend({ "shea-butter": 100 - percent, "jojoba-oil": percent });

const at = (...celsius: number[]) => ({
  useCelsius: 21,
  places: celsius.map((each) => ({ name: `room at ${each}`, celsius: each })),
});

describe("a liquid that sets in the cold", () => {
  it("is told for a fifth of jojoba in a cool room, with the coldest place and where it sets (Merck: 10.6 °C)", () => {
    expect(settingFindings(jojoba(20), at(10, 28, 5))).toEqual([
      {
        code: "judge.liquid.may-set",
        subject: "jojoba-oil",
        measured: 5,
        limit: 10.6,
        unit: "°C",
        mend: "nobody",
      },
    ]);
  });

  it("is told when the jar is used that cold", () => {
    expect(settingFindings(jojoba(20), { useCelsius: 10.5 })).toHaveLength(1);
  });

  it("is not told for less jojoba, at the setting point itself, or without a cold place", () => {
    expect(settingFindings(jojoba(19.99), at(5))).toEqual([]);
    expect(settingFindings(jojoba(20), at(10.6))).toEqual([]);
    expect(settingFindings(jojoba(20), at())).toEqual([]);
  });

  it("is told of medium-chain oil below 0 °C, and never of squalane", () => {
    const liquid = (id: string) => libraryBlend({ "shea-butter": 70, [id]: 30 });
    expect(settingFindings(liquid("fractionated-coconut-oil"), at(-5))).toHaveLength(1);
    expect(settingFindings(liquid("fractionated-coconut-oil"), at(5))).toEqual([]);
    expect(settingFindings(liquid("squalane"), at(-10))).toEqual([]);
  });

  it("comes with the whole judgement and stops nothing", () => {
    const { verdict, findings } = judgeInFull(jojoba(20), { celsius: [], ...at(10) });
    expect(verdict).toBe("orderable");
    expect(findings.map(({ code }) => code)).toContain("judge.liquid.may-set");
  });
});
