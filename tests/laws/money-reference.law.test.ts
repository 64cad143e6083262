/**
 * Splitting and rounding of money against a money library from outside, and the table of currencies there and back.
 *
 * The library (dinero.js 2) hands left-over units to the first parts that claim anything, we hand them to the largest
 * remainders: both keep the sum, and neither is ever a whole unit from the exact part.
 */
import {
  type Dinero,
  allocate,
  dinero,
  halfUp,
  toSnapshot,
  transformScale,
} from "dinero.js/bigint";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { apportion } from "#core/apportion.ts";
import { pricePer100g } from "#core/price/price.ts";
import { taxInsideMinor, taxOnTopMinor } from "#core/price/tax.ts";
import { sayAmount } from "#service/actions/order-amounts.ts";
import { TILL_CURRENCIES } from "#service/tills/currency-table.ts";
import { plainAmount, readMoney } from "#service/typed/read-money.ts";

const RUNS = { numRuns: 2_000 };
const POUND = { code: "GBP", base: 10n, exponent: 2n };
const amounts = fc.nat(99_999_999);
/** Digits kept while the library multiplies; exact, as it counts in whole numbers. */
const FINE = 12n;

const unitsOf = (money: Dinero<bigint>) => Number(toSnapshot(money).amount);

/** numerator / denominator of an amount, rounded half up by the library from twelve digits after the unit. */
function roundedByLibrary(minor: number, numerator: number, denominator: number): number {
  const fine = (BigInt(minor) * BigInt(numerator) * 10n ** FINE) / BigInt(denominator);
  const exact = dinero({ amount: fine, currency: POUND, scale: POUND.exponent + FINE });
  return unitsOf(transformScale(exact, POUND.exponent, halfUp));
}

describe("money split by us and by a library", () => {
  it("keeps its sum in both, with no part a whole unit off, and the same where nothing is left over", () => {
    const claims = fc
      .array(fc.nat(10_000), { minLength: 1, maxLength: 12 })
      .filter((list) => list.some((claim) => claim > 0));
    fc.assert(
      fc.property(amounts, claims, (whole, parts) => {
        const ours = apportion(whole, parts);
        const total = parts.reduce((sum, claim) => sum + claim, 0);
        const theirs = allocate(
          dinero({ amount: BigInt(whole), currency: POUND }),
          parts.map(BigInt),
        ).map(unitsOf);
        const sum = (list: readonly number[]) => list.reduce((all, each) => all + each, 0);
        expect([sum(ours), sum(theirs)]).toEqual([whole, whole]);
        ours.forEach((part, at) => {
          expect(Math.abs(part - (whole * parts[at]!) / total)).toBeLessThan(1);
          expect(Math.abs(part - theirs[at]!)).toBeLessThanOrEqual(1);
        });
        if (parts.every((claim) => (BigInt(whole) * BigInt(claim)) % BigInt(total) === 0n)) {
          expect(ours).toEqual(theirs);
        }
      }),
      RUNS,
    );
  });
});

describe("money rounded by us and by a library", () => {
  it("is the same for tax on top", () => {
    fc.assert(
      fc.property(amounts, fc.nat(3_000), (minor, share) => {
        const ours = taxOnTopMinor(minor, { share, stepMinor: 1 });
        expect(ours).toBe(roundedByLibrary(minor, share, 10_000));
      }),
      RUNS,
    );
  });

  it("is the same for tax inside a price", () => {
    fc.assert(
      fc.property(amounts, fc.nat(3_000), (minor, share) => {
        const policy = { taxShare: share } as Parameters<typeof taxInsideMinor>[1];
        expect(taxInsideMinor(minor, policy)).toBe(roundedByLibrary(minor, share, 10_000 + share));
      }),
      RUNS,
    );
  });

  it("is the same for the price of 100 g", () => {
    fc.assert(
      fc.property(amounts, fc.integer({ min: 1, max: 5_000 }), (minor, fillG) => {
        expect(pricePer100g(minor, fillG)).toBe(roundedByLibrary(minor, 100, fillG));
      }),
      RUNS,
    );
  });
});

describe("tax of an order", () => {
  it("is the same to a unit whether its price holds it or it comes on top", () => {
    fc.assert(
      fc.property(amounts, fc.nat(3_000), (goods, share) => {
        const tax = { share, stepMinor: 1 };
        const inside = taxInsideMinor(goods, { taxShare: share } as never);
        // What is inside is the tax of what is left without it, to the unit it was rounded to.
        expect(Math.abs(taxOnTopMinor(goods - inside, tax) - inside)).toBeLessThanOrEqual(1);
        expect(inside).toBeLessThanOrEqual(taxOnTopMinor(goods, tax));
      }),
      RUNS,
    );
  });
});

describe("the table of currencies", () => {
  it.each([...TILL_CURRENCIES.values()])(
    "of $code says an amount and reads the same one back",
    ({ code, exponent, stepMinor }) => {
      for (const steps of [0, 1, 9, 10, 99, 100, 101, 12_345, Math.floor(99_999_999 / stepMinor)]) {
        const minor = steps * stepMinor;
        const said = sayAmount(minor, code);
        expect(said).toBe(`${plainAmount(minor, exponent)} ${code}`);
        expect(said.split(" ")[0]!.split(".")[1]?.length ?? 0).toBe(exponent);
        expect(readMoney(said, { code, exponent })).toEqual({ value: minor });
      }
    },
  );

  it("counts as the payment service does where the locale data does not", () => {
    const exponents = (codes: string) =>
      codes.split(" ").map((code) => TILL_CURRENCIES.get(code)?.exponent);
    expect(exponents("JPY KRW VND CLP")).toEqual([0, 0, 0, 0]);
    expect(exponents("BHD JOD KWD OMR TND")).toEqual([3, 3, 3, 3, 3]);
    expect(exponents("HUF ISK COP IDR TWD")).toEqual([2, 2, 2, 2, 2]);
  });
});
