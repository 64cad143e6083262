/**
 * How the payment service counts each currency.
 *
 * Written out, never derived from `Intl`: the locale data behind it gives no decimals to 17
 * currencies that the payment service counts in hundredths (HUF, COP, IDR ...), which would sell at
 * a hundredth of the price.
 *
 * Source: Stripe, "Supported currencies" (docs.stripe.com/currencies), read through public copies
 * of 2022 to 2026, as the page itself could not be reached. The unit is ISO 4217's except for three
 * currencies:
 * - ISK, UGX: ISO 4217 has no decimals; counted here in hundredths that must be whole units (5 ISK
 *   is 500). UGX also stands on the page's zero-decimal list; the special case is the rule that
 *   charges follow (seen in the API's own error, "charged amounts must be evenly divisible by 100":
 *   woocommerce-gateway-stripe issue 2674).
 * - MGA: ISO 4217 has two decimals (fifths, in truth); counted here in whole ariary.
 *
 * HUF and TWD are charged in hundredths, yet paid out in whole units only: what remains stays in
 * the balance.
 */
import type { Currency } from "#core/price/money.ts";

export interface TillCurrency extends Currency {
  /** Amounts must be a multiple of this [minor units] */
  readonly stepMinor: number;
  /** Least total of a charge, where it is known. */
  readonly least: LeastCharge | undefined;
}

export interface LeastCharge {
  readonly minor: number;
  /**
   * `typings`: said by the SDK itself. `copies`: two copies of the page agree. `copy`: one copy
   * says so.
   */
  readonly trust: "typings" | "copies" | "copy";
}

const NO_DECIMALS = codes("BIF CLP DJF GNF JPY KMF KRW MGA PYG RWF VND VUV XAF XOF XPF");
/**
 * Last digit must be 0; offered to accounts in some countries only (seen for the United Arab
 * Emirates).
 */
const THREE_DECIMALS = codes("BHD JOD KWD OMR TND");
const WHOLE_UNITS_IN_HUNDREDTHS = codes("ISK UGX");
/** BGN and HRK have given way to EUR, and are left out. */
const TWO_DECIMALS = codes(`
  AED AFN ALL AMD ANG AOA ARS AUD AWG AZN BAM BBD BDT BMD BND BOB BRL BSD BWP BYN BZD CAD CDF
  CHF CNY COP CRC CVE CZK DKK DOP DZD EGP ETB EUR FJD FKP GBP GEL GIP GMD GTQ GYD HKD HNL HTG
  HUF IDR ILS INR JMD KES KGS KHR KYD KZT LAK LBP LKR LRD LSL MAD MDL MKD MMK MNT MOP MUR MVR
  MWK MXN MYR MZN NAD NGN NIO NOK NPR NZD PAB PEN PGK PHP PKR PLN QAR RON RSD RUB SAR SBD SCR
  SEK SGD SHP SLE SOS SRD STD SZL THB TJS TOP TRY TTD TWD TZS UAH USD UYU UZS WST XCD YER ZAR
  ZMW`);

/**
 * Least charges. They hold for an account that settles in the same currency; one that settles in
 * another must reach that currency's least after conversion, which only the payment service can
 * tell.
 */
const LEAST_MINOR = {
  typings: { USD: 50 },
  copies: {
    ...{ AED: 200, AUD: 50, BRL: 50, CAD: 50, CHF: 50, CZK: 1500, DKK: 250, EUR: 50, GBP: 30 },
    ...{ HKD: 400, HUF: 17500, INR: 50, JPY: 50, MXN: 1000, MYR: 200, NOK: 300, NZD: 50 },
    ...{ PLN: 200, RON: 200, SEK: 300, SGD: 50, THB: 1000 },
  },
  copy: { ARS: 50, COP: 50, IDR: 50, ILS: 50, KRW: 50, PHP: 50, RUB: 50, ZAR: 50 },
} as const satisfies Record<LeastCharge["trust"], Record<string, number>>;

const LEAST = new Map<string, LeastCharge>(
  (Object.keys(LEAST_MINOR) as LeastCharge["trust"][]).flatMap((trust) =>
    Object.entries(LEAST_MINOR[trust]).map(([code, minor]) => [code, { minor, trust }] as const),
  ),
);

/** Every currency a till can charge, by ISO 4217 code in upper case. */
export const TILL_CURRENCIES: ReadonlyMap<string, TillCurrency> = new Map([
  ...rows(NO_DECIMALS, 0, 1),
  ...rows(TWO_DECIMALS, 2, 1),
  ...rows(WHOLE_UNITS_IN_HUNDREDTHS, 2, 100),
  ...rows(THREE_DECIMALS, 3, 10),
]);

function rows(list: readonly string[], exponent: number, stepMinor: number) {
  return list.map((code): [string, TillCurrency] => [
    code,
    { code, exponent, stepMinor, least: LEAST.get(code) },
  ]);
}

function codes(list: string): readonly string[] {
  return list.trim().split(/\s+/);
}
