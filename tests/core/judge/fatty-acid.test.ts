import { describe, expect, it } from "vitest";
import {
  FATTY_ACIDS,
  GLYCEROL_LESS_WATER,
  fattyAcidByCode,
  fattyAcidByLetter,
  fattyAcidMolarMass,
} from "#core/judge/fatty-acid.ts";

describe("the fatty acids", () => {
  it("have a code and a letter of their own, which say carbons and double bonds", () => {
    expect(new Set(FATTY_ACIDS.map(({ code }) => code)).size).toBe(FATTY_ACIDS.length);
    expect(new Set(FATTY_ACIDS.map(({ letter }) => letter)).size).toBe(FATTY_ACIDS.length);
    for (const { code, letter, carbons, doubleBonds } of FATTY_ACIDS) {
      expect(code).toMatch(new RegExp(`^${carbons}:${doubleBonds}(\\D|$)`));
      expect(letter).toMatch(/^[A-Z][a-z]?$/);
    }
  });

  it("are found by code and by letter, and only when they are known", () => {
    expect(fattyAcidByCode("18:1")?.letter).toBe("O");
    expect(fattyAcidByLetter("Ln")?.code).toBe("18:3");
    expect(fattyAcidByCode("19:0")).toBeUndefined();
    expect(fattyAcidByLetter("X")).toBeUndefined();
    expect(fattyAcidByCode("constructor")).toBeUndefined();
  });

  it.each([
    ["12:0", 200.32],
    ["16:0", 256.43],
    ["18:0", 284.48],
    ["18:1", 282.47],
    ["18:1-OH", 298.47],
    ["18:2", 280.45],
    ["18:3", 278.44],
    ["22:1", 338.58],
  ])("weigh what their formula says: %s %d g/mol", (code, molarMass) => {
    expect(fattyAcidMolarMass(fattyAcidByCode(code)!)).toBeCloseTo(molarMass, 1);
  });

  it("sit on a glycerol of 92.094 g/mol that gave up three waters", () => {
    expect(GLYCEROL_LESS_WATER).toBeCloseTo(92.094 - 3 * 18.015, 2);
  });
});
