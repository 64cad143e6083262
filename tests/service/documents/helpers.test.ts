import { expect, test } from "vitest";
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

test("never rounds a limit of warmth up", () => {
  expect(helpers.celsius(27.99)).toBe(`27${SPACE}°C`);
  expect(helpers.celsius(-0.5)).toBe(`-1${SPACE}°C`);
});

test.each([
  [{ least: 78, greatest: 81 }, "78 to 81"],
  [{ least: 20, greatest: 20 }, "20"],
  [{ greatest: 45 }, "below 45"],
  [{ least: 4 }, "from 4"],
])("writes a range of temperatures in words", (range, written) => {
  expect(helpers.celsiusRange(range)).toBe(`${written}${SPACE}°C`);
});

test("writes long times in hours and short ones in minutes", () => {
  expect(helpers.minutesRange({ least: 15, greatest: 20 })).toBe(`15 to 20${SPACE}min`);
  expect(helpers.minutesRange({ least: 1440, greatest: 2880 })).toBe(`24 to 48${SPACE}h`);
});

test.each([
  [1250, { code: "GBP", exponent: 2 }, "en-GB", "£12.50"],
  [1250, { code: "JPY", exponent: 0 }, "en-GB", "JP¥1,250"],
  [1250, { code: "KWD", exponent: 3 }, "en-GB", `KWD${SPACE}1.250`],
])("writes %d minor units by the exponent of the currency", (minor, currency, locale, written) => {
  expect(helpers.money(minor, currency, locale)).toBe(written);
});

test("writes days as words, over the ends of months and years", () => {
  expect(helpers.dateWords("2026-11-25", "en-GB")).toBe("25 November 2026");
  expect(helpers.dateAfter("2026-12-28", 7, "en-GB")).toBe("4 January 2027");
  expect(helpers.dateAfter("2028-02-25", 7, "en-GB")).toBe("3 March 2028");
});

test("throws rather than print a hole", () => {
  expect(() => helpers.celsius(undefined)).toThrow("number");
  expect(() => helpers.celsius(Number.NaN)).toThrow("number");
  expect(() => helpers.percent(12.5)).toThrow("whole number");
  expect(() => helpers.dateWords("soon", "en-GB")).toThrow("day");
  expect(() => helpers.celsiusRange({})).toThrow("range");
});
