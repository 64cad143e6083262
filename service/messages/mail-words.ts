/**
 * What the mails say: those to the maker stand here, those to customers in `customer-mails.ts`.
 */
import { blendWords, jarsOf, titleOf } from "../pages/maker-pages.ts";
import type { EndpointRow } from "../storage/event-endpoints.ts";
import { sayIn } from "../words/speak.ts";
import { CUSTOMER_MAILS } from "./customer-mails.ts";
import type { MailWords, OrderMailGround, WriteMail } from "./mail-ground.ts";
import { ENDPOINT_OFF } from "./tellings.ts";

/** The maker's side is English; only its figures follow the shop. */
const ENGLISH = "en";

function toMaker(
  { order, makerUrl }: OrderMailGround,
  words: Omit<MailWords, "locale" | "link" | "closing">,
): MailWords {
  return {
    locale: ENGLISH,
    ...words,
    link: { href: makerUrl, words: `Open order ${order.reference}` },
    closing: order.tillKind === "practice" ? [sayIn(ENGLISH, "mail.practice")] : [],
  };
}

const MAKER: Readonly<Record<string, WriteMail>> = {
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
  const write = (to === "customer" ? CUSTOMER_MAILS : MAKER)[purpose];
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
    locale: ENGLISH,
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
