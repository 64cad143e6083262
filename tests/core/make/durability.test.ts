import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type DurabilityInput, addMonths, durabilityOf } from "#core/make/durability.ts";
import { sayGap, stopsPrint } from "#core/make/label-gaps.ts";

const EU = { isRequired: true, openJarAboveMonths: 30 };
const US = { isRequired: false, openJarAboveMonths: null };
const MADE = "2026-11-25";

const lot = (bestBefore: string | null, code = "TB-1") => ({
  ingredient: "Shea butter",
  code,
  bestBefore,
});

function found(change: Partial<DurabilityInput>, rule: Parameters<typeof durabilityOf>[1] = EU) {
  const input = { madeOnISO: MADE, lots: [], lotless: [], ...change };
  return durabilityOf(input, rule);
}

const codes = (change: Partial<DurabilityInput>, rule = EU) =>
  found(change, rule).gaps.map(({ code }) => code);

describe("months after a day", () => {
  it.each([
    ["2026-11-25", 9, "2027-08-25"],
    ["2026-08-31", 6, "2027-02-28"],
    ["2027-08-31", 6, "2028-02-29"],
    ["2026-12-31", 1, "2027-01-31"],
    ["2026-11-25", 30, "2029-05-25"],
  ])("%s and %d months are %s", (day, months, then) => {
    expect(addMonths(day, months)).toBe(then);
  });
});

describe("how long a jar is said to last", () => {
  it("is the maker's months after making, while every lot lasts longer", () => {
    const { durability, endedBy, gaps } = found({ shelfLifeMonths: 9, lots: [lot("2028-01-01")] });
    expect(durability).toEqual({ kind: "before-end-of", dayISO: "2027-08-25" });
    expect(endedBy).toBeUndefined();
    expect(gaps).toEqual([]);
  });

  it("is the earliest lot's date where that comes first, and says whose", () => {
    const lots = [lot("2027-06-30", "A"), lot("2027-03-14", "B"), lot("2027-08-01", "C")];
    const { durability, endedBy } = found({ shelfLifeMonths: 9, lots });
    expect(durability).toEqual({ kind: "before-end-of", dayISO: "2027-03-14" });
    expect(endedBy?.code).toBe("B");
  });

  it("is a date up to 30 months, and an open jar above", () => {
    expect(found({ shelfLifeMonths: 30, openMonths: 12 }).durability?.kind).toBe("before-end-of");
    expect(found({ shelfLifeMonths: 31, openMonths: 12 }).durability).toEqual({
      kind: "open-jar",
      months: 12,
    });
    // A lot that ends sooner brings the date back.
    expect(
      found({ shelfLifeMonths: 36, openMonths: 12, lots: [lot("2027-05-01")] }).durability,
    ).toEqual({ kind: "before-end-of", dayISO: "2027-05-01" });
  });

  it("asks for the months of an open jar rather than make them up", () => {
    expect(codes({ shelfLifeMonths: 36 })).toEqual(["label.open-months.missing"]);
    expect(found({ shelfLifeMonths: 36 }).durability).toBeUndefined();
  });

  it("is never worked out: without the maker's months there is no date, where one is asked for", () => {
    expect(codes({ lots: [lot("2027-05-01")] })).toEqual(["label.shelf-life.missing"]);
    expect(found({ lots: [lot("2027-05-01")] }).durability).toBeUndefined();
    expect(found({}, US)).toEqual({ gaps: [] });
  });

  it("names lots without a date, and ingredients without a lot", () => {
    const gaps = found({ shelfLifeMonths: 9, lots: [lot(null)], lotless: ["Jojoba oil"] }).gaps;
    expect(gaps.map(sayGap)).toEqual([
      expect.stringContaining("Lot TB-1 of Shea butter has no best-before date"),
      expect.stringContaining("No lot of Jojoba oil that may be used is known"),
    ]);
    expect(gaps.some(stopsPrint)).toBe(false);
  });

  it("stops at a lot that was past its date on the day of making, in every market", () => {
    for (const rule of [EU, US]) {
      const { gaps } = found({ lots: [lot("2026-11-24")] }, rule);
      const past = gaps.find(({ code }) => code === "label.lot.past-its-date")!;
      expect(stopsPrint(past)).toBe(true);
      expect(sayGap(past)).toContain("best before 2026-11-24");
    }
    expect(codes({ shelfLifeMonths: 9, lots: [lot(MADE)] })).toEqual([]);
  });

  it("is never later than the maker's months or any lot, and open only above 30 months", () => {
    const day = fc
      .integer({ min: 0, max: 1500 })
      .map((days) => new Date(Date.parse(MADE) + days * 86_400_000).toISOString().slice(0, 10));
    const months = fc.integer({ min: 1, max: 60 });
    fc.assert(
      fc.property(months, months, fc.array(day, { maxLength: 8 }), (shelf, open, days) => {
        const lots = days.map((each, at) => lot(each, String(at)));
        const { durability } = found({ shelfLifeMonths: shelf, openMonths: open, lots });
        const ends = [addMonths(MADE, shelf), ...days].sort()[0]!;
        if (ends > addMonths(MADE, 30)) {
          expect(durability).toEqual({ kind: "open-jar", months: open });
        } else expect(durability).toEqual({ kind: "before-end-of", dayISO: ends });
      }),
    );
  });
});
