import { describe, expect, it } from "vitest";
import { sayAmount } from "#service/actions/order-amounts.ts";

describe("an amount in an order's log", () => {
  it.each([
    [1250, "GBP", "12.50 GBP"],
    [5, "EUR", "0.05 EUR"],
    [0, "GBP", "0.00 GBP"],
    [1250, "JPY", "1250 JPY"],
    [12_500, "KWD", "12.500 KWD"],
    [1250, "XXX", "1250 minor units of XXX"],
  ])("of %d %s is %j", (minor, code, said) => {
    expect(sayAmount(minor, code)).toBe(said);
  });
});
