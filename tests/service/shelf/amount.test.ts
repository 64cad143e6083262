/**
 * Amounts as makers write them.
 */
import { describe, expect, it } from "vitest";
import { ingredientById } from "#data/library.ts";
import { densityGPerMl, readAmount, readFigure, writeMass } from "#service/shelf/amount.ts";
import { readDay } from "#service/shelf/days.ts";
import { isOwnId, ownId } from "#service/shelf/own-id.ts";
import { readPrice, writePrice } from "#service/shelf/price-text.ts";

const sunflower = ingredientById("sunflower-oil")!;
const GBP = { code: "GBP", exponent: 2 };

describe("an amount", () => {
  it.each([
    ["5 kg", 5_000_000],
    ["250g", 250_000],
    ["1,5 kg", 1_500_000],
    ["1 234,5 g", 1_234_500],
    ["12,345.5 g", 12_345_500],
    ["0.001 g", 1],
    // The international pound of 1959, and its sixteenth.
    ["1 lb", 453_592],
    ["5 LBS", 2_267_962],
    ["16 oz", 453_592],
  ])("reads %s", (typed, mg) => {
    expect(readAmount(typed)).toEqual({ mg });
  });

  it.each([
    ["1.500 g"],
    ["12,345 ml"],
    ["5 stones"],
    ["kg"],
    ["5"],
    [""],
    ["0 g"],
    ["-1 kg"],
    ["1e3 kg"],
    ["99999 kg"],
  ])("does not read %s", (typed) => {
    expect(readAmount(typed, sunflower)).toHaveProperty("fault");
  });

  it("weighs a volume by the density of that fat at the temperature it is taken at", () => {
    // Sunflower oil at 20 °C: 0.918 to 0.923 relative to water (Codex Stan 210), so 0.916 to 0.922 g/ml.
    const litre = readAmount("1 l", sunflower) as { mg: number };
    expect(litre.mg).toBeGreaterThan(916_000);
    expect(litre.mg).toBeLessThan(923_000);
    const warm = readAmount("1000 ml at 40 °C", sunflower) as { mg: number };
    // Falls by about 0.00067 g/ml and degree.
    expect(litre.mg - warm.mg).toBeGreaterThan(11_000);
    expect(litre.mg - warm.mg).toBeLessThan(16_000);
    const ounce = readAmount("1 fl oz", sunflower) as { mg: number };
    expect(ounce.mg / litre.mg).toBeCloseTo(0.0295735, 6);
    expect(readAmount("1 l at 90 C", sunflower)).toHaveProperty("fault");
    // Part solid, and so denser than its own oil.
    const cocoa = ingredientById("cocoa-butter")!;
    expect(densityGPerMl(cocoa, 20)! - densityGPerMl(cocoa, 45)!).toBeGreaterThan(0.05);
    for (const id of ["squalane", "beeswax", "tapioca-starch"]) {
      expect(densityGPerMl(ingredientById(id)!, 20)).toBeUndefined();
    }
  });

  it("is written so that it reads back to the milligram", () => {
    for (const mg of [1, 999, 1000, 12_345, 999_999, 1_000_000, 1_234_567, 9_999_999_999]) {
      expect(readAmount(writeMass(mg))).toEqual({ mg });
    }
    expect(readFigure("1.234.567,8")).toBe(1_234_567.8);
    expect(readFigure("1,2,3")).toBeUndefined();
  });
});

describe("a price", () => {
  it("is read in minor units of the shop's own currency", () => {
    expect(readPrice("£11.80", GBP)).toEqual({ minor: 1180 });
    expect(readPrice("1.234,5 GBP", GBP)).toEqual({ minor: 123_450 });
    expect(readPrice("1180", { code: "JPY", exponent: 0 })).toEqual({ minor: 1180 });
    expect(readPrice("1.234", { code: "KWD", exponent: 3 })).toEqual({ minor: 1234 });
    expect(writePrice(1180, GBP)).toBe("11.80");
    for (const typed of ["", "eleven", "11.805", "-1", "11 USD", "9999999999"]) {
      expect(readPrice(typed, GBP)).toHaveProperty("fault");
    }
    expect(readPrice("1.5", { code: "JPY", exponent: 0 })).toHaveProperty("fault");
  });
});

describe("a day", () => {
  it("is read year first always, and otherwise only in the order that was said", () => {
    const read = (typed: string, order?: Parameters<typeof readDay>[2]) =>
      readDay(typed, "2026-11-25", order);
    expect(read("2027-03-04")).toEqual({ day: "2027-03-04" });
    expect(read("4.3.2027", "day-first")).toEqual({ day: "2027-03-04" });
    expect(read("3/4/2027", "month-first")).toEqual({ day: "2027-03-04" });
    expect(read("3/4/2027")).toHaveProperty("fault");
    expect(read("2028-02-29")).toEqual({ day: "2028-02-29" });
    for (const typed of ["2027-02-29", "2027-13-01", "0000-01-01", "2999-01-01", "soon", ""]) {
      expect(read(typed)).toHaveProperty("fault");
    }
  });
});

describe("an id of the maker's own", () => {
  it("is the library's for the first of its kind, then the name's, and never an address of the shelf", () => {
    expect(ownId("shea-butter", "Ghana 2", new Set())).toBe("shea-butter");
    expect(ownId("shea-butter", "Ghana Nº 2", new Set(["shea-butter"]))).toBe("ghana-no-2");
    expect(ownId("shea-butter", "שיאה 🧈", new Set(["shea-butter"]))).toBe("shea-butter-2");
    expect(ownId("shea-butter", "Lots", new Set(["shea-butter"]))).toBe("lots-2");
    expect([isOwnId("files"), isOwnId("a b"), isOwnId("oil-2")]).toEqual([false, false, true]);
  });
});
