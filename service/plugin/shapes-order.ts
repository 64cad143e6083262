/**
 * The answers about orders, keys and problems, and the events that are sent out, as schemas.
 */
import { ORDER_STATES } from "#core/order/states.ts";
import type { HostOrder, HostOrders, OrderEvent } from "#core/wire-host.ts";
import type { OrderAnswer, OrderStanding } from "#core/wire.ts";
import * as z from "zod";
import { TELLINGS } from "../messages/tellings.ts";
import { SaidFindingShape } from "./shapes-blend.ts";

const Minor = z.int().describe("[minor units]");
const Currency = z.string().describe("ISO 4217.");
const Seconds = z.int().describe("Seconds since 1970.");
const State = z.enum(ORDER_STATES);

export const OrderAnswerShape = z.object({
  reference: z.string().describe("What people say on the phone."),
  state: State,
  orderUrl: z.string().describe("Page with the order's state, for the customer alone."),
  payUrl: z.string().nullable().describe("Where to pay; null when there is nothing left to pay."),
}) satisfies z.ZodType<OrderAnswer>;

export const OrderStandingShape = z.object({
  reference: z.string(),
  state: State,
  totalMinor: Minor,
  currency: Currency,
  blend: z
    .string()
    .nullable()
    .describe("Code of the blend, to order it again; null when it can no longer be read."),
}) satisfies z.ZodType<OrderStanding>;

export const HostOrderShape = z.object({
  reference: z.string(),
  hostReference: z.string(),
  state: State,
  quote: z.string().describe("Id of the quote it was made from."),
  totalMinor: Minor,
  currency: Currency,
  placedAt: Seconds,
  cancelAskedAt: z
    .int()
    .nullable()
    .describe("When the customer asked to cancel, seconds since 1970; null when they did not."),
  orderUrl: z.string().describe("Page with the order's state, for the customer alone."),
}) satisfies z.ZodType<HostOrder>;

export const HostOrdersShape = z.object({
  orders: z.array(HostOrderShape).describe("The oldest first."),
  next: z.string().nullable().describe("Asks for the next page as `after`; null on the last."),
}) satisfies z.ZodType<HostOrders>;

export const KeySetShape = z.object({
  keys: z
    .array(
      z.object({
        kty: z.literal("OKP"),
        crv: z.literal("Ed25519"),
        x: z.string(),
        kid: z.string(),
        alg: z.literal("EdDSA"),
        use: z.literal("sig"),
      }),
    )
    .describe("JWK set (RFC 7517)."),
});

export const EventReceivedShape = z.object({ received: z.literal(true), repeated: z.boolean() });

export const ProblemShape = z.object({
  type: z.string().describe("urn:softset:problem: and the code."),
  title: z.string(),
  status: z.int(),
  detail: z.string().describe("What happened, what is kept, what to do."),
  code: z.string().describe("Stable; never changes its meaning."),
  instance: z.string().exactOptional(),
  findings: z.array(SaidFindingShape).exactOptional(),
  errors: z.array(z.object({ pointer: z.string(), detail: z.string() })).exactOptional(),
});

export const ORDER_EVENT_TYPES = Object.values(TELLINGS).map(({ type }) => type);

export const OrderEventShape = z.object({
  type: z.string().describe(`One of ${ORDER_EVENT_TYPES.join(", ")}; more may be added.`),
  timestamp: z.string().describe("ISO 8601, UTC."),
  data: z.object({
    id: z.string(),
    reference: z.string(),
    hostReference: z.string().nullable(),
    state: State,
    totalMinor: Minor,
    refundedMinor: Minor,
    currency: Currency,
    dispute: z.string().nullable(),
  }),
}) satisfies z.ZodType<OrderEvent>;
