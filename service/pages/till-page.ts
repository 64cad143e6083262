/**
 * What the practice till's page shows: what is to be paid, and what it asks.
 */
import type { QuoteSnapshot } from "#core/wire.ts";
import { countryName } from "../documents/formats.ts";
import type { PracticeSession } from "../tills/practice.ts";
import { sayIn } from "../words/speak.ts";
import { sumsOf } from "./order-page.ts";

export interface TillAsked {
  readonly fields: Readonly<Record<string, string>>;
  /** What is missing, as a key of the words `till`; empty at first. */
  readonly fault: string;
}

export function tillPage(
  session: PracticeSession,
  quote: QuoteSnapshot | undefined,
  locale: string,
  { fields, fault }: TillAsked,
) {
  const { ways = [], countries = [] } = session.carriage ?? {};
  return {
    title: sayIn(locale, "till.title"),
    ...{ session, quote, locale, fields },
    fault: fault && sayIn(locale, `till.${fault}`),
    sums: quote && sumsOf(quote),
    open: session.state === "open",
    ways: ways.map(({ name, minor, days }, at) => ({
      ...{ at, name, minor, chosen: String(at) === fields["way"] },
      days: days ? daysWords(days, locale) : "",
    })),
    countries: countries.map((code) => ({
      ...{ code, name: countryName(locale, code), chosen: code === fields["country"] },
    })),
  };
}

function daysWords(
  days: { readonly least: number; readonly most: number },
  locale: string,
): string {
  const message = days.least === days.most ? "till.days" : "till.daysBetween";
  return sayIn(locale, message, days);
}
