/**
 * What a mail is written from, and what it is before it is laid out.
 */
import type { QuoteSnapshot } from "#core/wire.ts";
import type { OrderRow } from "../storage/orders.ts";
import type { ShopRow } from "../storage/shops.ts";

/** A mail before it is laid out, as text and as a page. */
export interface MailWords {
  /** BCP 47 tag of the language it is in. */
  readonly locale: string;
  readonly subject: string;
  readonly headline: string;
  readonly paragraphs: readonly string[];
  readonly facts: readonly { readonly term: string; readonly value: string }[];
  readonly link: { readonly href: string; readonly words: string } | null;
  /** Below the rest, in smaller letters. */
  readonly closing: readonly string[];
}

export interface OrderMailGround {
  readonly shop: ShopRow;
  readonly order: OrderRow;
  readonly quote: QuoteSnapshot;
  /** The customer's own page of the order. */
  readonly orderUrl: string;
  /** The maker's page of it. */
  readonly makerUrl: string;
}

export type WriteMail = (ground: OrderMailGround) => MailWords;
