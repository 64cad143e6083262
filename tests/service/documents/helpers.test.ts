import { expect, test } from "vitest";
import { daysAfter } from "#service/days.ts";
import { dateWords } from "#service/documents/figures.ts";
import { helpers } from "#service/documents/helpers.ts";
import { HELPER_NAMES } from "#service/documents/precompile.mjs";

const SPACE = "\u00a0";

test("holds a helper for each name that templates may call", () => {
  expect(Object.keys(helpers).sort()).toEqual([...HELPER_NAMES].sort());
});

test.each([
  [10_000, "100.00"],
  [1205, "12.05"],
  [5, "0.05"],
  [0, "0.00"],
])("writes %d hundredths of a percent as %s %%", (share, written) => {
  expect(helpers.percent(share)).toBe(`${written}${SPACE}%`);
});

test.each([
  [1250, { code: "GBP", exponent: 2 }, "en-GB", "£12.50"],
  [1250, { code: "JPY", exponent: 0 }, "en-GB", "JP¥1,250"],
  [1250, { code: "KWD", exponent: 3 }, "en-GB", `KWD${SPACE}1.250`],
])("writes %d minor units by the exponent of the currency", (minor, currency, locale, written) => {
  expect(helpers.money(minor, currency, locale)).toBe(written);
});

test("writes days as words, over the ends of months and years", () => {
  expect(dateWords("2026-11-25", "en-GB")).toBe("25 November 2026");
  expect(dateWords(daysAfter("2026-12-28", 7), "en-GB")).toBe("4 January 2027");
  expect(dateWords(daysAfter("2028-02-25", 7), "en-GB")).toBe("3 March 2028");
});

test("throws rather than print a hole", () => {
  expect(() => helpers.percent(12.5)).toThrow("whole number");
  expect(() => dateWords("soon", "en-GB")).toThrow("day");
});
