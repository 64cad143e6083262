/**
 * Money, percent and counts as a maker types them, with a sentence for whatever cannot be taken.
 */
import { AMOUNT_GREATEST_MINOR, type Currency } from "#core/price/money.ts";
import { type ReadDecimal, readDecimal } from "./read-decimal.ts";

/** What was read, or what to do about it. */
export type Read = { readonly value: number } | { readonly sentence: string };

/** Currency symbols are one sign each; codes are three letters. */
const SIGNS = /^\p{Sc}\s*|\s*\p{Sc}$/gu;

/**
 * Read an amount of money: "12.50", "12,50", "£12.50", "1 250.00".
 * @param typed as it was typed; the shop's own currency may stand with it
 * @param currency its decimals come from the table of currencies, never from the amount
 * @returns minor units, or a sentence that says what to write instead
 */
export function readMoney(typed: string, { code, exponent }: Currency): Read {
  const codes = new RegExp(`^${code}\\s*|\\s*${code}$`, "giu");
  const bare = typed.trim().replace(codes, "").replace(SIGNS, "");
  const read = readDecimal(bare, exponent);
  if ("units" in read && read.units <= AMOUNT_GREATEST_MINOR) return { value: read.units };
  const fault = "fault" in read ? read.fault : "too-large";
  const example = plainAmount(1_250 * 10 ** Math.max(0, exponent - 2), exponent);
  const most = plainAmount(AMOUNT_GREATEST_MINOR, exponent);
  return {
    sentence: {
      empty: `Write an amount in ${code}, such as ${example}.`,
      "not-a-number": `“${typed.trim()}” is no amount of money. Write a figure such as ${example}.`,
      negative: "An amount cannot be below nothing. Write it without the minus.",
      "too-many-decimals": decimalsSentence(code, exponent),
      "two-readings": twoReadings(typed.trim(), exponent),
      "too-large": `The most a payment can take is ${most} ${code}. Write a smaller amount.`,
    }[fault],
  };
}

/**
 * Read a percentage: "12.5", "12,5 %".
 * @param most greatest percentage taken
 * @returns hundredths of a percent, or a sentence
 */
export function readPercent(typed: string, most: number): Read {
  const read = readDecimal(typed.trim().replace(/\s*%$/, ""), 2);
  if ("units" in read && read.units <= most * 100) return { value: read.units };
  const fault = "fault" in read ? read.fault : "too-large";
  return {
    sentence: {
      empty: "Write a percentage, such as 12.5.",
      "not-a-number": `“${typed.trim()}” is no percentage. Write a figure such as 12.5.`,
      negative: "A percentage cannot be below nothing here. Write it without the minus.",
      "too-many-decimals": "A percentage has at most two decimals here.",
      "two-readings": "A percentage has at most two decimals here.",
      "too-large": `This percentage can be ${most} at most.`,
    }[fault],
  };
}

/** Greatest count that makes sense of anything on these pages. */
const COUNT_MOST = 100_000;

/** Read a whole number from 1 upwards. */
export function readCount(typed: string): Read {
  const read: ReadDecimal = readDecimal(typed, 0);
  if ("units" in read && read.units >= 1 && read.units <= COUNT_MOST) return { value: read.units };
  return { sentence: `Write a whole number from 1 to ${COUNT_MOST}.` };
}

/** An amount as it would be typed, without its currency: "12.50". */
export function plainAmount(minor: number, exponent: number): string {
  const digits = String(minor).padStart(exponent + 1, "0");
  const whole = digits.slice(0, digits.length - exponent);
  return exponent === 0 ? whole : `${whole}.${digits.slice(-exponent)}`;
}

/** A percentage as it would be typed: "12.5". */
export function plainPercent(share: number): string {
  return plainAmount(share, 2).replace(/\.?0+$/, "");
}

function decimalsSentence(code: string, exponent: number): string {
  if (exponent === 0) return `${code} has no decimals. Write whole amounts, such as 1250.`;
  return `${code} has ${exponent} decimals. Write no more than that.`;
}

function twoReadings(typed: string, exponent: number): string {
  const whole = typed.replace(/[.,]/, "");
  return `“${typed}” could mean ${whole}. Write it so, or with at most ${exponent} decimals.`;
}
