/**
 * What a charge may say and until when, on both sides of every limit; and what is told where it is refused, which the
 * customer reads.
 */
import { describe, expect, it } from "vitest";
import { checkForm, lineName } from "#service/tills/charge-form.ts";
import { type Charge, TillRefusal } from "#service/tills/till.ts";
import { CARRIAGE, makeCharge } from "./till.contract.ts";

const NOW = new Date("2026-11-25T09:00:00.000Z");
const HOUR_MS = 3_600_000;

/** @returns what was refused; nothing when it is in order */
function refused(change: Partial<Charge>): string | undefined {
  const expiresAt = new Date(NOW.getTime() + HOUR_MS);
  try {
    checkForm(makeCharge({ expiresAt, ...change }), NOW);
    return undefined;
  } catch (error) {
    if (!(error instanceof TillRefusal)) throw error;
    expect(error.code).toBe("payment.charge.invalid");
    return error.message;
  }
}

const sent = (name: string, days?: { least: number; most: number }) => ({
  carriage: { ...CARRIAGE, ways: [{ name, minor: 1, ...(days ? { days } : {}) }] },
});
const until = (ms: number) => ({ expiresAt: new Date(NOW.getTime() + ms) });
const urlOf = (length: number) => `https://shop.example/${"x".repeat(length - 21)}`;

describe("the form of a charge", () => {
  it.each<[string, Partial<Charge>]>([
    ["as it is", {}],
    ["ids of their greatest length", { orderId: "o".repeat(200), idempotencyKey: "k".repeat(255) }],
    ["a reference of 500 signs, the first and the last of ASCII", { reference: "!~".repeat(250) }],
    ["addresses of 2048 signs", { successUrl: urlOf(2048), cancelUrl: urlOf(2048) }],
    ["addresses in clear", { successUrl: "http://shop.example/", cancelUrl: "http://s.example/" }],
    ["a last millisecond", until(1)],
    ["a whole day", until(24 * HOUR_MS)],
    ["a way of a hundred letters", sent("x".repeat(100))],
    ["a way that takes up to a day", sent("Post", { least: 0, most: 1 })],
    ["a way that takes just so long", sent("Post", { least: 2, most: 2 })],
    ["two ways to two countries", { carriage: CARRIAGE }],
  ])("is taken with %s", (_what, change) => {
    expect(refused(change)).toBeUndefined();
  });

  const ORDER_ID = "the order id must be 1 to 200 printable ASCII characters";
  const SUCCESS = "the success address must be an http or https address of at most 2048 characters";
  const CANCEL = SUCCESS.replace("success", "cancel");
  const NAME = "a way to send it has no name, or too long a one";
  const COUNTRIES = "the countries to send to must be two-letter codes, and at least one";
  const DAYS = "the days on the way must run from fewer to more";
  const to = (...countries: string[]) => ({ carriage: { ...CARRIAGE, countries } });

  it.each<[string, Partial<Charge>]>([
    [ORDER_ID, { orderId: "" }],
    [ORDER_ID, { orderId: "o".repeat(201) }],
    [ORDER_ID, { orderId: "ord 1" }],
    [ORDER_ID, { orderId: "ord\u007f" }],
    ["the reference must be 1 to 500 printable ASCII characters", { reference: "r".repeat(501) }],
    [
      "the idempotency key must be 1 to 255 printable ASCII characters",
      { idempotencyKey: "k".repeat(256) },
    ],
    [SUCCESS, { successUrl: urlOf(2049) }],
    [SUCCESS, { successUrl: "ftp://shop.example/" }],
    [SUCCESS, { successUrl: "/basket" }],
    [CANCEL, { cancelUrl: urlOf(2049) }],
    [CANCEL, { cancelUrl: "javascript:alert(1)" }],
    ["the description is empty", { description: " \u0000\n " }],
    ["the charge has expired: look for its session before making a new one", until(0)],
    ["the charge has expired: look for its session before making a new one", until(-1)],
    ["the charge expires more than 24 hours from now", until(24 * HOUR_MS + 1)],
    [NAME, sent("\t")],
    [NAME, sent("x".repeat(101))],
    [NAME, { carriage: { ...CARRIAGE, ways: [...CARRIAGE.ways, { name: " ", minor: 1 }] } }],
    [
      "two ways to send it have the same name",
      {
        carriage: {
          ...CARRIAGE,
          ways: [
            { name: "Post", minor: 1 },
            { name: "Post\n", minor: 2 },
          ],
        },
      },
    ],
    [COUNTRIES, to()],
    [COUNTRIES, to("GB", "gb")],
    [COUNTRIES, to("GBR")],
    [COUNTRIES, to("G")],
    [DAYS, sent("Post", { least: 3, most: 2 })],
    [DAYS, sent("Post", { least: -1, most: 2 })],
    [DAYS, sent("Post", { least: 0, most: 0 })],
  ])("is refused: %s (%o)", (says, change) => {
    expect(refused(change)).toBe(says);
  });
});

describe("a line that a payment page shows", () => {
  it.each([
    ["x".repeat(250), "x".repeat(250)],
    ["x".repeat(251), `${"x".repeat(249)}…`],
    // Letters of two units count once, and none is cut in half.
    ["🌼".repeat(251), `${"🌼".repeat(249)}…`],
    [`${"x".repeat(248)}  y zz`, `${"x".repeat(248)}…`],
    ["e\u0301te\u0301", "été"],
    ["  a \u2028 b\u00a0\u00a0c  ", "a b c"],
    ["a\u0001\u0002b", "a b"],
    ["a\u202e\u2066b\udc00", "ab"],
  ])("of %j is %j", (description, shown) => {
    expect(lineName(description)).toBe(shown);
  });
});
