/** Plain figures and slugs, as people type them. */
import { hasDecimals, numberOf, saidOf } from "#service/typed/figure.ts";
import { slugOf } from "#service/typed/slug.ts";
import { describe, expect, it } from "vitest";

describe("a figure as it is typed", () => {
  it.each([
    ["12.5", 12.5],
    ["12,5", 12.5],
    [" 1\u00a0250 ", 1250],
    ["-3", -3],
    ["\u22123,5", -3.5],
    [",5", 0.5],
    ["7.", 7],
  ])("reads %s", (typed, value) => {
    expect(numberOf(typed)).toBe(value);
  });

  it.each(["", "abc", "1.2.3", "1,250.00", "1e3", "Infinity", "12 g", "--1"])(
    "takes %o for no figure",
    (typed) => {
      expect(numberOf(typed)).toBeNaN();
    },
  );

  it("counts decimals without falling for the last bit", () => {
    expect(hasDecimals(0.1 + 0.2, 1)).toBe(true);
    expect(hasDecimals(0.25, 1)).toBe(false);
  });

  it("says what is wrong with a field, and no more of it than fits a sentence", () => {
    expect(saidOf("")).toBe("is missing");
    expect(saidOf("x".repeat(50))).toBe(`cannot be “${"x".repeat(40)}”`);
  });
});

describe("a name as part of an address", () => {
  it.each([
    ["Murumuru & Café No. 2", "murumuru-cafe-no-2"],
    ["  Çupuaçu!  ", "cupuacu"],
    ["זית", ""],
    ["🥥", ""],
  ])("makes %s into %o", (name, slug) => {
    expect(slugOf(name, 40)).toBe(slug);
  });

  it("is cut to length without a hyphen at its end", () => {
    expect(slugOf("hearth butter", 7)).toBe("hearth");
  });
});
