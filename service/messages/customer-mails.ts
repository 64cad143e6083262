/**
 * Mails to customers, in their language: the words are those of the chapter `mail` in `service/words`.
 */
import type { QuoteSnapshot } from "#core/wire.ts";
import { nameIn } from "#data/names.ts";
import { helpers } from "../documents/helpers.ts";
import { sayWithdrawal } from "../pages/disclosure-words.ts";
import { jarsOf } from "../pages/maker-pages.ts";
import { shopForReader } from "../words/reader.ts";
import { sayIn } from "../words/speak.ts";
import type { MailWords, OrderMailGround, WriteMail } from "./mail-ground.ts";

type Fact = MailWords["facts"][number];

/** What is common to all of them, for one reader. */
interface Letterhead {
  say(message: string, figures?: object): string;
  money(minor: number): string;
  readonly locale: string;
}

type Body = Pick<MailWords, "paragraphs" | "facts"> & { readonly closing?: readonly string[] };

/**
 * @param name of the mail among the words: its headline, and with "Subject" its subject
 * @param body what differs from mail to mail
 */
function mail(
  name: string,
  body: (ground: OrderMailGround, letterhead: Letterhead) => Body,
): WriteMail {
  return (ground) => {
    const { order, shop, orderUrl } = ground;
    const letterhead = letterheadOf(ground);
    const { say, locale } = letterhead;
    const { paragraphs, facts, closing = [] } = body(ground, letterhead);
    const names = { reference: order.reference, shop: shop.name };
    return {
      locale,
      subject: say(`mail.${name}Subject`, names),
      headline: say(`mail.${name}`),
      paragraphs,
      facts,
      link: { href: orderUrl, words: say("quote.see") },
      closing: [
        ...closing,
        say("mail.key"),
        ...(order.tillKind === "practice" ? [say("mail.practice")] : []),
        say("mail.why", names),
      ],
    };
  };
}

function letterheadOf({ order, shop, quote }: OrderMailGround): Letterhead {
  const { locale } = shopForReader(shop, order);
  return {
    say: (message, figures) => sayIn(locale, message, { ...figures }),
    money: (minor) => helpers.money(minor, quote.currency, locale),
    locale,
  };
}

/** By the type of what is told, such as "order.paid". */
export const CUSTOMER_MAILS: Readonly<Record<string, WriteMail>> = {
  "order.paid": mail("paid", (ground, letterhead) => {
    const { say, locale } = letterhead;
    const withdrawal = sayWithdrawal(ground.quote.withdrawal, locale);
    return {
      paragraphs: [say("told.paid"), say("mail.paidNext")],
      facts: [...whatIs(ground, letterhead), ...sums(ground, letterhead)],
      closing: withdrawal === "" ? [] : [withdrawal],
    };
  }),
  "order.sent": mail("sent", (ground, letterhead) => ({
    paragraphs: [letterhead.say("told.sent"), letterhead.say("mail.sentWarm")],
    facts: whatIs(ground, letterhead),
  })),
  "order.cancelled": mail("cancelled", (ground, letterhead) => {
    const wasPaid = ground.order.paidAt !== null;
    return {
      paragraphs: [
        letterhead.say("mail.cancelledNothing"),
        ...(wasPaid ? [letterhead.say("mail.cancelledMoney")] : []),
      ],
      facts: whatIs(ground, letterhead),
    };
  }),
  "order.refunded": mail("refunded", (ground, letterhead) => {
    const { say, money } = letterhead;
    const soFar = { term: say("mail.refundedSoFar"), value: money(ground.order.refundedMinor) };
    return {
      paragraphs: [say("mail.refundedHow")],
      facts: [...whatIs(ground, letterhead), soFar],
    };
  }),
  "order.expired": mail("expired", (ground, letterhead) => ({
    paragraphs: [letterhead.say("mail.expiredNothing")],
    facts: whatIs(ground, letterhead),
  })),
};

function whatIs({ order, quote }: OrderMailGround, { say }: Letterhead): readonly Fact[] {
  const names = { product: quote.product.name, base: quote.base.name };
  return [
    { term: say("mail.order"), value: order.reference },
    { term: say("sums.jars"), value: jarsOf(quote) },
    { term: say("receipt.what"), value: say("mail.of", names) },
  ];
}

function sums({ order, quote }: OrderMailGround, letterhead: Letterhead): readonly Fact[] {
  const { say, money, locale } = letterhead;
  const { carriageMinor, carriageName, capturedMinor, totalMinor } = order;
  const tax = {
    term: say(quote.taxOnTop ? "sums.taxOnTop" : "mail.taxInside"),
    value: money(quote.taxMinor),
  };
  const carriage = { term: carriageName ?? say("mail.carriage"), value: money(carriageMinor) };
  return [
    { term: say("order.parts"), value: partsOf(quote, locale) },
    ...(carriageMinor > 0 || carriageName !== null ? [carriage] : []),
    ...(quote.taxMinor > 0 ? [tax] : []),
    { term: say("mail.amountPaid"), value: money(capturedMinor ?? totalMinor + carriageMinor) },
  ];
}

/** "60 % Sheabutter, 10 % Kakaobutter" */
function partsOf({ parts }: QuoteSnapshot, locale: string): string {
  return parts
    .map((part) => `${helpers.percentIn(part.share, locale)} ${nameIn(locale, part)}`)
    .join(", ");
}
