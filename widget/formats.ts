/**
 * Numbers as the shop's customers write them. Display only: nothing is ever reckoned from these
 * strings.
 */
import type { Currency } from "#core/price/money.ts";

export interface Formats {
  /** @param share [hundredths of a percent] */
  percent(share: number): string;
  /** @param minor [minor units] */
  money(minor: number): string;
  /** @param celsius shown as a whole number */
  degrees(celsius: number): string;
  number(value: number, decimals?: 0 | 1): string;
}

/**
 * Formats for a shop.
 * @param locale BCP 47 tag
 * @throws RangeError when the locale or the currency is none
 */
export function formatsFor(locale: string, currency: Currency): Formats {
  const numbers = (options: Intl.NumberFormatOptions) => new Intl.NumberFormat(locale, options);
  const percent = numbers({ style: "percent", maximumFractionDigits: 2 });
  const degrees = numbers({ maximumFractionDigits: 0 });
  const tenths = numbers({ maximumFractionDigits: 1 });
  const money = numbers({
    style: "currency",
    currency: currency.code,
    minimumFractionDigits: currency.exponent,
    maximumFractionDigits: currency.exponent,
  });
  return {
    percent: (share) => percent.format(share / 10_000),
    money: (minor) => money.format(minor / 10 ** currency.exponent),
    degrees: (celsius) => `${degrees.format(celsius)}\u00a0°C`,
    number: (value, decimals = 0) => (decimals === 0 ? degrees : tenths).format(value),
  };
}
