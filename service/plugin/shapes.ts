/**
 * What a host shop may send: orders it was paid for, cancellations, and how it looks through its orders.
 */
import type { HostOrderRequest } from "#core/wire-host.ts";
import * as z from "zod";
import { OrderRequestShape } from "../shapes.ts";
import { WHY_LONGEST } from "../typed/why.ts";

/** Rows of a page of orders, when nothing else is asked for, and at most. */
export const PAGE_USUAL = 50;
const PAGE_MOST = 200;

/** One line of text: a line break in a name would begin a new line on a label, or a header in a mail. */
const line = (longest: number) =>
  z
    .string()
    .trim()
    .min(1)
    .max(longest)
    // Half a character, which JSON can hold, would be stored as another one.
    .refine(
      (text) => !/[\p{Cc}\p{Cs}]/u.test(text),
      "One line of text, without control characters.",
    );
const Country = z
  .string()
  .regex(/^[A-Z]{2}$/, "Two capital letters (ISO 3166-1).")
  .describe("ISO 3166-1.");

export const HostOrderRequestShape = z.strictObject({
  quote: OrderRequestShape.shape.quote.describe("The token of the quote, as it was handed out."),
  hostReference: line(64).describe("The host shop's own number of the order."),
  paid: z
    .strictObject({
      amountMinor: z.int().min(0).describe("[minor units]"),
      currency: z
        .string()
        .regex(/^[A-Z]{3}$/, "Three capital letters (ISO 4217).")
        .describe("ISO 4217."),
    })
    .describe(
      "What the customer paid for this quote: its total, to the last minor unit. Carriage of the host shop is its own.",
    ),
  customer: z
    .strictObject({ name: line(120).exactOptional(), email: z.email().max(254).exactOptional() })
    .describe("Who bought it, to reach them should a jar have to be called back.")
    .exactOptional(),
  deliverTo: z
    .strictObject({
      name: line(120),
      lines: z.array(line(120)).min(1).max(4),
      city: line(80),
      region: z.union([line(80), z.literal("")]),
      postcode: z.union([line(20), z.literal("")]),
      country: Country,
    })
    .describe("Where the maker sends the parcel. Leave it out when the host shop sends it on.")
    .exactOptional(),
  language: z
    .string()
    .regex(/^[a-zA-Z]{2,3}(-[a-zA-Z0-9]{2,8})*$/, "A language tag such as en or de-AT (BCP 47).")
    .max(35)
    .describe("Language of the customer's page of the order; the shop's own when left out.")
    .exactOptional(),
}) satisfies z.ZodType<HostOrderRequest>;

export const CancelRequestShape = z.strictObject({
  why: line(WHY_LONGEST).describe("For the maker's log.").exactOptional(),
});

const wholeNumber = (least: number, greatest: number) =>
  z
    .string()
    .regex(/^\d{1,12}$/, "A whole number.")
    .transform(Number)
    .pipe(z.int().min(least).max(greatest));

/** Query of the list of orders. */
export const HostListShape = z.strictObject({
  since: wholeNumber(0, 999_999_999_999)
    .describe("Placed then or later [seconds since 1970]")
    .exactOptional(),
  hostReference: line(64)
    .describe("Only orders of this number of the host shop's own.")
    .exactOptional(),
  after: z
    .string()
    .regex(/^\d{1,12}\.[\da-f-]{1,64}$/, "The `next` of the page before.")
    .describe("The `next` of the page before; without it the list begins.")
    .exactOptional(),
  most: wholeNumber(1, PAGE_MOST)
    .describe(`Orders in one answer, ${PAGE_USUAL} when not said.`)
    .exactOptional(),
});
