/**
 * Every operation of the API in one table: what it takes, what it answers, and which problems it meets. The description
 * is made from it, and a test holds it against the routes there are.
 */
import * as z from "zod";
import type { ProblemCode } from "../problem.ts";
import * as request from "../shapes.ts";
import { KEPT_S, KEY_LONGEST } from "./once.ts";
import * as blend from "./shapes-blend.ts";
import * as offer from "./shapes-offer.ts";
import * as order from "./shapes-order.ts";
import { CancelRequestShape, HostListShape, HostOrderRequestShape } from "./shapes.ts";

/** The chapters of the story, as the description groups them. */
export type Chapter = "compose" | "judge" | "price" | "order" | "host";

export interface Operation {
  readonly method: "get" | "post";
  /** Below /v1, with parameters in braces. */
  readonly path: string;
  readonly id: string;
  readonly chapter: Chapter;
  /** One line. */
  readonly summary: string;
  /** What else there is to know. */
  readonly words?: string;
  /** A key is needed, or opens another side of the operation. */
  readonly key?: "needed" | "may";
  readonly parameters?: Readonly<Record<string, string>>;
  readonly query?: z.ZodObject;
  readonly headers?: Readonly<Record<string, { readonly words: string; readonly needed: boolean }>>;
  readonly body?: readonly z.ZodType[];
  /** The body is not JSON. */
  readonly rawBody?: string;
  readonly answers: Readonly<
    Record<string, { readonly words: string; readonly shapes: readonly z.ZodType[] }>
  >;
  readonly problems: readonly ProblemCode[];
}

const READS_JSON = [
  "request.body.malformed",
  "request.body.invalid",
  "request.body.too-large",
  "request.body.wrong-type",
] as const;
/** Asked for too often from one address (`guard/limits.ts`). */
const COUNTED = ["request.rate.exceeded"] as const;
const ASKS_KEY = ["request.key.missing", "request.key.unknown"] as const;
const OF_PRODUCT = ["compose.product.unknown", "compose.zone.unknown"] as const;
const JUDGES = [
  "compose.choice.refused",
  "judge.blend.refused",
  "judge.blend.cannot-judge",
] as const;
const OF_QUOTE = ["order.quote.altered", "order.quote.expired", "order.quote.outdated"] as const;
const OfferQuery = z.object({
  zone: z.string().describe("Where the parcel goes; the warmest zone when not said.").optional(),
  language: z
    .string()
    .describe(
      "Tag (BCP 47) of the language ingredients are named in; the shop’s own when not said.",
    )
    .optional(),
});

export const OPERATIONS: readonly Operation[] = [
  {
    ...{ method: "get", path: "/products", id: "listProducts", chapter: "compose" },
    summary: "What is for sale",
    answers: { 200: { words: "Published products.", shapes: [offer.ProductListShape] } },
    problems: [],
  },
  {
    ...{ method: "get", path: "/products/{product}", id: "readProduct", chapter: "compose" },
    summary: "All a page needs to compose, judge and price without asking again",
    parameters: { product: "Id of a published product." },
    query: OfferQuery,
    answers: { 200: { words: "The offer.", shapes: [offer.OfferShape] } },
    problems: OF_PRODUCT,
  },
  {
    ...{ method: "post", path: "/blend-links", id: "makeBlendLink", chapter: "compose" },
    summary: "The code of a choice, to share it; nothing is stored",
    body: [request.BlendLinkRequestShape],
    answers: { 200: { words: "The code.", shapes: [blend.BlendLinkAnswerShape] } },
    problems: [...READS_JSON, ...OF_PRODUCT, "compose.choice.refused"],
  },
  {
    ...{ method: "get", path: "/blend-links/{code}", id: "openBlendLink", chapter: "compose" },
    summary: "The choice in a code, to be judged by what is for sale now",
    parameters: { code: "A code as it was made here." },
    answers: { 200: { words: "The choice.", shapes: [blend.BlendOpenedShape] } },
    problems: ["compose.code.altered", "compose.code.outdated", "compose.product.unknown"],
  },
  {
    ...{ method: "post", path: "/verdicts", id: "judge", chapter: "judge" },
    summary: "The verdict on a choice; nothing is stored",
    body: [request.VerdictRequestShape],
    answers: { 200: { words: "The verdict.", shapes: [blend.VerdictAnswerShape] } },
    problems: [...READS_JSON, ...OF_PRODUCT, "compose.choice.refused"],
  },
  {
    ...{ method: "post", path: "/nearest", id: "findNearest", chapter: "judge" },
    summary: "The nearest choice that can be ordered; nothing is stored",
    body: [request.NearestRequestShape],
    answers: {
      200: { words: "A choice, or what stands in the way.", shapes: [blend.NearestAnswerShape] },
    },
    problems: [...COUNTED, ...READS_JSON, ...OF_PRODUCT, "compose.choice.refused"],
  },
  {
    ...{ method: "post", path: "/wishes", id: "findByWishes", chapter: "judge" },
    summary: "Up to three choices that fit wishes; nothing is stored",
    body: [request.WishesRequestShape],
    answers: {
      200: { words: "Choices, or what stands in the way.", shapes: [blend.WishesAnswerShape] },
    },
    problems: [...COUNTED, ...READS_JSON, ...OF_PRODUCT, "compose.choice.refused"],
  },
  {
    ...{ method: "post", path: "/quotes", id: "quote", chapter: "price" },
    summary: "A signed quote: verdict and price, frozen for an hour",
    words:
      "The token is a compact JWS (RFC 7515) over the quote, signed with Ed25519, `typ` softset-quote+json. Check it with the keys at /v1/quote-keys before you charge its total.",
    body: [request.QuoteRequestShape],
    answers: { 201: { words: "The quote and its token.", shapes: [blend.QuoteAnswerShape] } },
    problems: [
      ...[...READS_JSON, ...OF_PRODUCT, ...JUDGES, ...COUNTED],
      ...(["price.blend.cannot-price", "make.batch.refused", "payment.charge.invalid"] as const),
    ],
  },
  {
    ...{ method: "get", path: "/quote-keys", id: "readQuoteKeys", chapter: "price" },
    summary: "The public keys that quotes are checked with",
    words:
      "Keep them as long as Cache-Control says, and ask again when a token names another `kid`.",
    answers: { 200: { words: "A JWK set (RFC 7517).", shapes: [order.KeySetShape] } },
    problems: [],
  },
  {
    ...{ method: "post", path: "/orders", id: "placeOrder", chapter: "order", key: "may" },
    summary: "An order on a quote, paid at the shop's till or, with a key, at yours",
    words:
      `Without a key the customer is sent to pay. With a key the order stands as paid at once: ` +
      `\`paid\` must be the quote's total, to the unit. Send an Idempotency-Key of your own drawing with it: ` +
      `the same key with the same body gets the same answer for ${KEPT_S / 3600} hours, refusals too. ` +
      `A quote gives one order, whatever is sent twice.`,
    headers: {
      "Idempotency-Key": {
        words: `With a key: needed, 1 to ${KEY_LONGEST} printable ASCII characters, in quotes or bare.`,
        needed: false,
      },
    },
    body: [request.OrderRequestShape, HostOrderRequestShape],
    answers: {
      200: {
        words: "The order stood already.",
        shapes: [order.OrderAnswerShape, order.HostOrderShape],
      },
      201: { words: "The order.", shapes: [order.OrderAnswerShape, order.HostOrderShape] },
    },
    problems: [
      ...([...READS_JSON, ...OF_PRODUCT, ...JUDGES, ...OF_QUOTE, ...COUNTED] as const),
      "request.key.unknown" as const,
      ...([
        "request.key.missing",
        "request.idempotency-key.missing",
        "request.idempotency-key.invalid",
        "request.idempotency-key.reused",
        "request.idempotency-key.running",
        "order.quote.unknown",
        "order.quote.taken",
        "payment.amount.mismatch",
        "payment.charge.invalid",
        "payment.till.rejected",
        "payment.till.unauthorised",
        "payment.till.unavailable",
      ] as const),
    ],
  },
  {
    ...{ method: "get", path: "/orders/{order}/{token}", id: "readOwnOrder", chapter: "order" },
    summary: "Where an order stands, for whoever holds its link",
    parameters: { order: "Id of the order.", token: "The secret in the order's link." },
    answers: { 200: { words: "Where it stands.", shapes: [order.OrderStandingShape] } },
    problems: ["order.unknown"],
  },
  {
    ...{ method: "get", path: "/orders", id: "listOrders", chapter: "host", key: "needed" },
    summary: "Your orders, the oldest first, page by page",
    words: "A further page is named by `next`, and in a Link header (RFC 8288).",
    query: HostListShape,
    answers: { 200: { words: "A page of orders.", shapes: [order.HostOrdersShape] } },
    problems: [...ASKS_KEY, "request.query.invalid"],
  },
  {
    ...{ method: "get", path: "/orders/{reference}", id: "readOrder", chapter: "host" },
    ...{ key: "needed", summary: "One of your orders" },
    parameters: { reference: "Reference of the order." },
    answers: { 200: { words: "The order.", shapes: [order.HostOrderShape] } },
    problems: [...ASKS_KEY, "order.unknown"],
  },
  {
    ...{ method: "post", path: "/orders/{reference}/cancel", id: "cancelOrder", chapter: "host" },
    ...{ key: "needed", summary: "Cancel before making starts" },
    words:
      "Safe to send again: an order that is cancelled stays so. The money is yours to give back.",
    parameters: { reference: "Reference of the order." },
    body: [CancelRequestShape],
    answers: { 200: { words: "The cancelled order.", shapes: [order.HostOrderShape] } },
    problems: [...ASKS_KEY, ...READS_JSON, "order.unknown", "order.state.conflict"],
  },
  {
    ...{ method: "post", path: "/payment-events", id: "takePaymentEvent", chapter: "order" },
    summary: "Where the payment service of the shop reports; not for host shops",
    rawBody: "The event, to the byte as it was signed.",
    headers: { "Stripe-Signature": { words: "Signature over the body.", needed: true } },
    answers: { 200: { words: "It was taken in.", shapes: [order.EventReceivedShape] } },
    problems: [
      ...(["request.body.too-large", "payment.signature.invalid"] as const),
      ...(["payment.till.unauthorised", "payment.till.unavailable"] as const),
    ],
  },
  {
    ...{ method: "get", path: "/openapi.json", id: "readDescription", chapter: "host" },
    summary: "This description (OpenAPI 3.1)",
    answers: {
      200: { words: "The description.", shapes: [z.looseObject({ openapi: z.string() })] },
    },
    problems: [],
  },
];
