import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  plainAmount,
  plainPercent,
  readCount,
  readMoney,
  readPercent,
} from "#service/typed/read-money.ts";
import { TILL_CURRENCIES } from "#service/tills/currency-table.ts";

const money = (typed: string, code: string) => readMoney(typed, TILL_CURRENCIES.get(code)!);

describe("an amount of money as it is typed", () => {
  it.each([
    ["12.50", "GBP", 1_250],
    ["12,50", "GBP", 1_250],
    ["12,5", "GBP", 1_250],
    ["12", "GBP", 1_200],
    ["12.", "GBP", 1_200],
    [".5", "GBP", 50],
    ["0", "GBP", 0],
    ["007.10", "GBP", 710],
    [" £ 12.50 ", "GBP", 1_250],
    ["12,50 €", "EUR", 1_250],
    ["eur 12.50", "EUR", 1_250],
    ["12.500", "KWD", 12_500],
    ["12,5", "KWD", 12_500],
    ["1250", "JPY", 1_250],
    ["1,250", "JPY", 1_250],
    ["1250.00", "JPY", 1_250],
    ["１２５０", "JPY", 1_250],
    ["١٢٫٥", "KWD", 12_500],
    ["1,250.00", "GBP", 125_000],
    ["1.250,00", "EUR", 125_000],
    ["1 250,00", "EUR", 125_000],
    ["1\u202f250,00", "EUR", 125_000],
    ["1’250.00", "CHF", 125_000],
    ["999,999.99", "GBP", 99_999_999],
    ["100,000", "ISK", undefined],
  ])("“%s” in %s is %s minor units", (typed, code, minor) => {
    const read = money(typed, code);
    if (minor === undefined) expect(read).toHaveProperty("sentence");
    else expect(read).toEqual({ value: minor });
  });

  it.each([
    ["", "GBP", "Write an amount in GBP, such as 12.50."],
    ["   ", "KWD", "Write an amount in KWD, such as 12.500."],
    ["", "JPY", "Write an amount in JPY, such as 1250."],
    ["twelve", "GBP", "“twelve” is no amount of money. Write a figure such as 12.50."],
    ["1e3", "GBP", "“1e3” is no amount of money. Write a figure such as 12.50."],
    ["12.50 USD", "GBP", "“12.50 USD” is no amount of money. Write a figure such as 12.50."],
    ["1.2.3", "GBP", "“1.2.3” is no amount of money. Write a figure such as 12.50."],
    ["12,34,567", "GBP", "“12,34,567” is no amount of money. Write a figure such as 12.50."],
    ["🧈", "GBP", "“🧈” is no amount of money. Write a figure such as 12.50."],
    ["-5", "GBP", "An amount cannot be below nothing. Write it without the minus."],
    ["\u22125,00", "EUR", "An amount cannot be below nothing. Write it without the minus."],
    ["12.345", "GBP", "“12.345” could mean 12345. Write it so, or with at most 2 decimals."],
    ["1,250", "GBP", "“1,250” could mean 1250. Write it so, or with at most 2 decimals."],
    ["0.125", "GBP", "GBP has 2 decimals. Write no more than that."],
    ["12.3456", "GBP", "GBP has 2 decimals. Write no more than that."],
    ["12.5", "JPY", "JPY has no decimals. Write whole amounts, such as 1250."],
    ["12.3456", "KWD", "KWD has 3 decimals. Write no more than that."],
    ["1000000", "GBP", "The most a payment can take is 999999.99 GBP. Write a smaller amount."],
    [
      "9".repeat(40),
      "GBP",
      "The most a payment can take is 999999.99 GBP. Write a smaller amount.",
    ],
  ])("“%s” in %s is answered: %s", (typed, code, sentence) => {
    expect(money(typed, code)).toEqual({ sentence });
  });

  it("is read back as it was written, in every currency a till takes", () => {
    const currencies = fc.constantFrom(...TILL_CURRENCIES.values());
    fc.assert(
      fc.property(fc.nat(99_999_999), currencies, fc.boolean(), (minor, currency, comma) => {
        const written = plainAmount(minor, currency.exponent);
        const read = readMoney(comma ? written.replace(".", ",") : written, currency);
        expect(read).toEqual({ value: minor });
      }),
    );
  });

  it("written as a country writes it means the same, or is asked about", () => {
    const locales = fc.constantFrom("en-GB", "de-DE", "fr-FR", "de-CH", "ja-JP", "sv-SE", "pl-PL");
    fc.assert(
      fc.property(fc.nat(99_999_999), locales, (minor, locale) => {
        const written = (minor / 100).toLocaleString(locale, { minimumFractionDigits: 2 });
        expect(money(written, "EUR")).toEqual({ value: minor });
      }),
    );
  });
});

describe("a percentage as it is typed", () => {
  it.each([
    ["30", 3_000],
    ["12.5", 1_250],
    ["12,25 %", 1_225],
    ["0", 0],
    ["100", 10_000],
  ])("“%s” is %d hundredths of a percent", (typed, share) => {
    expect(readPercent(typed, 100)).toEqual({ value: share });
  });

  it.each([
    ["", "Write a percentage, such as 12.5."],
    ["half", "“half” is no percentage. Write a figure such as 12.5."],
    ["-1", "A percentage cannot be below nothing here. Write it without the minus."],
    ["12.345", "A percentage has at most two decimals here."],
    ["100.01", "This percentage can be 100 at most."],
  ])("“%s” is answered: %s", (typed, sentence) => {
    expect(readPercent(typed, 100)).toEqual({ sentence });
  });

  it("is read back as it was written", () => {
    fc.assert(
      fc.property(fc.nat(10_000), (share) => {
        expect(readPercent(plainPercent(share), 100)).toEqual({ value: share });
      }),
    );
  });
});

describe("a count as it is typed", () => {
  it("is a whole number from 1", () => {
    expect(readCount("12")).toEqual({ value: 12 });
    for (const typed of ["", "0", "1.5", "-3", "x", "100001"]) {
      expect(readCount(typed)).toHaveProperty("sentence");
    }
  });
});
