/**
 * A quote on a page of its own, for customers without a script: everything to know before paying, and one button.
 */
import type { Blend } from "#core/blend.ts";
import type { PoreRules } from "#core/judge/pore-rating.ts";
import type { QuoteSnapshot } from "#core/wire.ts";
import { nameIn } from "#data/names.ts";
import type { ShopRow } from "../storage/shops.ts";
import { sayIn } from "../words/speak.ts";
import { disclosureOf } from "./disclosure.ts";
import { sayWithdrawal } from "./disclosure-words.ts";
import { sumsOf } from "./order-page.ts";

export interface PlainQuoteSays {
  /** What the quote is for; nothing when its product is no longer what it was. */
  readonly made: { readonly blend: Blend; readonly rules: PoreRules } | undefined;
  readonly isExpired: boolean;
  /** Page of its order, once there is one. */
  readonly orderUrl: string | undefined;
  /** Why ordering did not work; empty when it was not tried. */
  readonly faults: readonly string[];
}

/** Everything the template asks for. */
export function plainQuotePage(quote: QuoteSnapshot, owner: ShopRow, says: PlainQuoteSays) {
  const { made, isExpired, orderUrl, faults } = says;
  const { locale } = owner;
  return {
    title: `${sayIn(locale, "order.yourJar")}, ${owner.name}`,
    ...{ shop: owner, locale, quote, faults, orderUrl, isExpired },
    parts: quote.parts.map((part) => ({ ...part, name: nameIn(locale, part) })),
    sums: sumsOf(quote),
    canOrder: made !== undefined && !isExpired && orderUrl === undefined,
    disclosure: made && disclosureOf(made.blend, made.rules, locale),
    withdrawal: sayWithdrawal(quote.withdrawal, locale),
    back: `/shop/${encodeURIComponent(quote.product.id)}`,
  };
}
