/**
 * What the mails say: every sentence of them stands here, and nothing else does.
 */
import type { QuoteSnapshot } from "#core/wire.ts";
import { helpers } from "../documents/helpers.ts";
import { sayWithdrawal } from "../pages/disclosure-words.ts";
import { blendWords, jarsOf, titleOf } from "../pages/maker-pages.ts";
import type { EndpointRow } from "../storage/event-endpoints.ts";
import type { OrderRow } from "../storage/orders.ts";
import type { ShopRow } from "../storage/shops.ts";
import { ENDPOINT_OFF } from "./tellings.ts";

/** A mail before it is laid out, as text and as a page. */
export interface MailWords {
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

type Write = (ground: OrderMailGround) => MailWords;

const PRACTICE = "This is a practice shop: no money has moved and nothing will be made.";

function toCustomer(ground: OrderMailGround, words: Omit<MailWords, "link">): MailWords {
  const { order, shop, orderUrl } = ground;
  return {
    ...words,
    link: { href: orderUrl, words: "Look at your order" },
    closing: [
      ...words.closing,
      "The link is the key to your order, for you alone: whoever has it can open the page.",
      ...(order.tillKind === "practice" ? [PRACTICE] : []),
      `${shop.name} sends this because you ordered there.`,
    ],
  };
}

function toMaker({ order, makerUrl }: OrderMailGround, words: Omit<MailWords, "link" | "closing">) {
  return {
    ...words,
    link: { href: makerUrl, words: `Open order ${order.reference}` },
    closing: order.tillKind === "practice" ? [PRACTICE] : [],
  };
}

const CUSTOMER: Readonly<Record<string, Write>> = {
  "order.paid": (ground) => {
    const { order, quote, shop } = ground;
    const withdrawal = sayWithdrawal(quote.withdrawal);
    return toCustomer(ground, {
      subject: `Your order ${order.reference} at ${shop.name} is paid`,
      headline: "Thank you: your order is paid",
      paragraphs: [
        "Your jar is on the maker’s list. It is made to order, so give it a few days.",
        "You get a mail when it leaves the workshop.",
      ],
      facts: [...whatIs(ground), ...sums(ground)],
      closing: withdrawal === "" ? [] : [withdrawal],
    });
  },
  "order.sent": (ground) => {
    const { order, shop } = ground;
    return toCustomer(ground, {
      subject: `Your order ${order.reference} from ${shop.name} is on its way`,
      headline: "Your order is on its way",
      paragraphs: [
        "Your jar has left the workshop.",
        "If it arrives warm and soft, let it stand in a cool room for a day before you open it.",
      ],
      facts: whatIs(ground),
      closing: [],
    });
  },
  "order.cancelled": (ground) => {
    const { order, shop } = ground;
    const wasPaid = order.paidAt !== null;
    return toCustomer(ground, {
      subject: `Your order ${order.reference} at ${shop.name} is cancelled`,
      headline: "Your order is cancelled",
      paragraphs: [
        "Nothing will be made.",
        ...(wasPaid ? ["You get a mail of its own when your money is on its way back."] : []),
      ],
      facts: whatIs(ground),
      closing: [],
    });
  },
  "order.refunded": (ground) => {
    const { order, shop } = ground;
    return toCustomer(ground, {
      subject: `Money from your order ${order.reference} at ${shop.name} is on its way back`,
      headline: "Your money is on its way back",
      paragraphs: ["It goes back the way you paid. How many days that takes is up to your bank."],
      facts: [
        ...whatIs(ground),
        { term: "Given back so far", value: money(ground, order.refundedMinor) },
      ],
      closing: [],
    });
  },
  "order.expired": (ground) => {
    const { order, shop } = ground;
    return toCustomer(ground, {
      subject: `The payment for order ${order.reference} at ${shop.name} did not arrive`,
      headline: "Your payment did not arrive",
      paragraphs: [
        "No money was taken, so nothing will be made.",
        "You can choose your blend again whenever you like.",
      ],
      facts: whatIs(ground),
      closing: [],
    });
  },
};

const MAKER: Readonly<Record<string, Write>> = {
  "order.paid": (ground) =>
    toMaker(ground, {
      subject: `To make: order ${ground.order.reference}`,
      headline: `Order ${ground.order.reference} is paid and waits to be made`,
      paragraphs: [],
      facts: [...whatIs(ground), { term: "Blend", value: blendWords(ground.quote) }],
    }),
  "order.held": (ground) =>
    toMaker(ground, {
      subject: `Please look: order ${ground.order.reference} is held`,
      headline: `Order ${ground.order.reference} is held`,
      paragraphs: ["Nothing is made of it until you have looked and decided."],
      facts: [{ term: "Why", value: ground.order.heldBecause ?? "not said" }, ...whatIs(ground)],
    }),
  "order.disputed": (ground) =>
    toMaker(ground, {
      subject: `Please look: the payment of order ${ground.order.reference} is disputed`,
      headline: `The payment of order ${ground.order.reference} is disputed`,
      paragraphs: [
        "The customer’s bank has called it in question. Answer at your payment service before its day is over.",
      ],
      facts: [
        { term: "Stands at", value: ground.order.disputeState ?? "not said" },
        ...whatIs(ground),
      ],
    }),
  "order.cancel_asked": (ground) =>
    toMaker(ground, {
      subject: `Order ${ground.order.reference}: the customer asks to cancel`,
      headline: `The customer asks to cancel order ${ground.order.reference}`,
      paragraphs: ["You decide. Until then the order stands as it is."],
      facts: whatIs(ground),
    }),
};

/**
 * What a mail about an order says.
 * @param purpose type of the telling, such as "order.paid"
 * @throws when there is no such mail: the table of tellings and this file must go together
 */
export function orderMailWords(
  purpose: string,
  to: "customer" | "maker",
  ground: OrderMailGround,
): MailWords {
  const write = (to === "customer" ? CUSTOMER : MAKER)[purpose];
  if (!write) throw new Error(`no mail to the ${to} for ${purpose}`);
  return write(ground);
}

const OFF: Readonly<Record<string, string>> = {
  gone: "It answered that it is gone for good (status 410).",
  failing: "It has taken nothing in for three days.",
};

/** What the maker is told when nothing more goes to a host shop. */
export function endpointOffWords(
  purpose: string,
  endpoint: EndpointRow,
  messagesUrl: string,
): MailWords {
  if (purpose !== ENDPOINT_OFF) throw new Error(`no mail without an order for ${purpose}`);
  const { host } = new URL(endpoint.url);
  return {
    subject: `No more events go to ${host}`,
    headline: `No more events go to ${host}`,
    paragraphs: [
      OFF[endpoint.offBecause ?? ""] ?? "It is switched on again by now.",
      "Events that were not delivered are kept. Once the host shop listens again, switch the address on and send them.",
    ],
    facts: [],
    link: { href: messagesUrl, words: "Open Messages" },
    closing: [],
  };
}

function whatIs({ order, quote }: OrderMailGround) {
  return [
    { term: "Order", value: order.reference },
    { term: "Jars", value: jarsOf(quote) },
    { term: "Of", value: titleOf(quote) },
  ];
}

function sums(ground: OrderMailGround) {
  const { order, quote } = ground;
  const { carriageMinor, carriageName, capturedMinor, totalMinor } = order;
  const tax = {
    term: quote.taxOnTop ? "Tax, on top" : "Tax in it",
    value: money(ground, quote.taxMinor),
  };
  return [
    { term: "What goes in", value: blendWords(quote) },
    ...(carriageMinor > 0 || carriageName !== null
      ? [{ term: carriageName ?? "Carriage", value: money(ground, carriageMinor) }]
      : []),
    ...(quote.taxMinor > 0 ? [tax] : []),
    { term: "Paid", value: money(ground, capturedMinor ?? totalMinor + carriageMinor) },
  ];
}

function money({ quote, shop }: OrderMailGround, minor: number): string {
  return helpers.money(minor, quote.currency, shop.locale);
}
