/**
 * Money at the edges of what a till can take. Limits: Stripe, "Supported currencies" (see
 * currency-table.ts).
 */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { checkCharge } from "#service/tills/currency.ts";
import { TILL_CURRENCIES } from "#service/tills/currency-table.ts";
import { TillRefusal } from "#service/tills/till.ts";

function isTaken(currency: string, unitAmountMinor: number, quantity = 1): boolean {
  try {
    checkCharge({ currency, unitAmountMinor, quantity });
    return true;
  } catch (error) {
    if (error instanceof TillRefusal && error.code === "payment.charge.invalid") return false;
    throw error;
  }
}

describe("the currency table", () => {
  it("holds each currency once, under its own code", () => {
    expect(TILL_CURRENCIES.size).toBe(138);
    for (const [code, currency] of TILL_CURRENCIES) {
      expect(code).toMatch(/^[A-Z]{3}$/);
      expect(currency.code).toBe(code);
    }
  });

  it.each([
    ["GBP", 2, 1],
    ["JPY", 0, 1],
    ["KWD", 3, 10],
    ["HUF", 2, 1],
    ["TWD", 2, 1],
    ["COP", 2, 1],
    ["ISK", 2, 100],
    ["UGX", 2, 100],
    ["MGA", 0, 1],
  ])("counts %s with %i decimals in steps of %i", (code, exponent, stepMinor) => {
    expect(TILL_CURRENCIES.get(code)).toMatchObject({ exponent, stepMinor });
  });

  it("differs from locale data where locale data would undercharge", () => {
    const digits = (currency: string) =>
      new Intl.NumberFormat("en", { style: "currency", currency }).resolvedOptions()
        .maximumFractionDigits ?? 2;
    const under = [...TILL_CURRENCIES.values()].filter(
      ({ code, exponent }) => digits(code) < exponent,
    );
    expect(under.map(({ code }) => code)).toEqual(expect.arrayContaining(["ISK", "IDR", "PKR"]));
  });

  it("gives every least charge a step it can be paid in", () => {
    const known = [...TILL_CURRENCIES.values()].filter(({ least }) => least);
    expect(known).toHaveLength(31);
    for (const { least, stepMinor } of known) expect((least?.minor ?? 1) % stepMinor).toBe(0);
  });
});

describe("what is told of a charge that is refused", () => {
  const told = (change: Partial<Parameters<typeof checkCharge>[0]>): string | undefined => {
    try {
      checkCharge({ currency: "ISK", unitAmountMinor: 50_000, quantity: 2, ...change });
      return undefined;
    } catch (error) {
      return (error as TillRefusal).message;
    }
  };
  const carriage = (...minors: number[]) => ({
    carriage: { ways: minors.map((minor, at) => ({ name: `${at}`, minor })), countries: ["IS"] },
  });

  it.each<[string, Parameters<typeof told>[0]]>([
    ['the till cannot charge the currency "ISX"', { currency: "ISX" }],
    ["the quantity must be a whole number from 1 to 999999, not 1000000", { quantity: 1_000_000 }],
    [
      "the price must be a whole number of minor units above 0, not -100",
      { unitAmountMinor: -100 },
    ],
    ["a price in ISK must be a multiple of 100 minor units", { unitAmountMinor: 50_050 }],
    [
      "the price holds its tax already: tax on top would charge it twice",
      { taxMinor: 100, taxInclusive: true },
    ],
    ["the tax must be a whole multiple of 100 minor units, not 150", { taxMinor: 150 }],
    ["the tax must be a whole multiple of 100 minor units, not 0", { taxMinor: 0 }],
    ["there must be 1 to 5 ways to send it, not 0", carriage()],
    ["there must be 1 to 5 ways to send it, not 6", carriage(0, 0, 0, 0, 0, 0)],
    ["carriage must be a whole multiple of 100 minor units, not 150", carriage(100, 150)],
    ["carriage must be a whole multiple of 100 minor units, not -100", carriage(-100)],
    ["carriage must be a whole multiple of 100 minor units, not 0", carriage(-0)],
    ["the total of 100000000 is above 99999999 minor units", { unitAmountMinor: 50_000_000 }],
    [
      "the total of 100000100 is above 99999999 minor units",
      { ...carriage(0, 40_000_100, 100), unitAmountMinor: 30_000_000 },
    ],
    [
      "the least charge in GBP is 30 minor units, not 29",
      { currency: "GBP", unitAmountMinor: 29, quantity: 1, ...carriage(500) },
    ],
  ])("%s", (words, change) => {
    expect(told(change)).toBe(words);
  });

  it.each<Parameters<typeof told>[0]>([
    { taxMinor: 100 },
    { taxMinor: 100, taxInclusive: false },
    { taxInclusive: true },
    { quantity: 999_999, unitAmountMinor: 100 },
    carriage(0, 100, 200, 300, 400),
    { currency: "GBP", unitAmountMinor: 20, quantity: 1, taxMinor: 10 },
  ])("is nothing of one in order: %o", (change) => {
    expect(told(change)).toBeUndefined();
  });
});

describe("a charge", () => {
  it.each([
    ["GBP", 30],
    ["USD", 50],
    ["EUR", 50],
    ["JPY", 50],
    ["HUF", 17500],
    ["NOK", 300],
  ])("in %s is taken from %i minor units up, over all jars together", (code, least) => {
    expect(isTaken(code, least - 1)).toBe(false);
    expect(isTaken(code, least)).toBe(true);
    expect(isTaken(code, least / 2 - 1, 2)).toBe(false);
    expect(isTaken(code, least / 2, 2)).toBe(true);
  });

  it("is taken up to eight digits, over all jars together", () => {
    expect(isTaken("GBP", 99_999_999)).toBe(true);
    expect(isTaken("GBP", 100_000_000)).toBe(false);
    expect(isTaken("GBP", 33_333_333, 3)).toBe(true);
    expect(isTaken("GBP", 33_333_334, 3)).toBe(false);
    expect(isTaken("GBP", Number.MAX_SAFE_INTEGER, 999_999)).toBe(false);
  });

  it("in three decimals ends in 0, in kronur and shillings is whole", () => {
    expect(isTaken("KWD", 5120)).toBe(true);
    expect(isTaken("KWD", 5124)).toBe(false);
    expect(isTaken("ISK", 500)).toBe(true);
    expect(isTaken("ISK", 550)).toBe(false);
    expect(isTaken("UGX", 500_000)).toBe(true);
    expect(isTaken("UGX", 500_001)).toBe(false);
  });

  it.each([Number.NaN, Infinity, -Infinity, -0, 0, -1, 10.5, 1e21, 2 ** 53, "1450", null])(
    "of %s is refused, as price and as quantity",
    (value) => {
      expect(isTaken("GBP", value as number)).toBe(false);
      expect(isTaken("GBP", 1450, value as number)).toBe(false);
    },
  );

  it.each(["gbp", "", "XXX", "BTC", "__proto__", "GBP ", "BGN"])("in %j is refused", (code) => {
    expect(isTaken(code, 10_000)).toBe(false);
  });

  it("that is taken is always whole, in step, and within bounds", () => {
    const amount = fc.oneof(fc.integer(), fc.double(), fc.integer({ min: 1, max: 200_000 }));
    const code = fc.constantFrom(...TILL_CURRENCIES.keys());
    let taken = 0;
    fc.assert(
      fc.property(code, amount, fc.integer({ min: -1, max: 999 }), (currency, unit, quantity) => {
        if (!isTaken(currency, unit, quantity)) return;
        taken += 1;
        const { stepMinor, least } = TILL_CURRENCIES.get(currency) ?? { stepMinor: 0 };
        expect(unit % stepMinor).toBe(0);
        expect(unit * quantity).toBeGreaterThanOrEqual(least?.minor ?? 1);
        expect(unit * quantity).toBeLessThanOrEqual(99_999_999);
      }),
      { numRuns: 2000 },
    );
    expect(taken).toBeGreaterThan(100);
  });
});
