/**
 * Which schemas have a name in the API's description.
 */
import * as z from "zod";
import * as request from "../shapes.ts";
import * as blend from "./shapes-blend.ts";
import * as offer from "./shapes-offer.ts";
import * as order from "./shapes-order.ts";
import { CancelRequestShape, HostOrderRequestShape } from "./shapes.ts";

export const NAMED: Readonly<Record<string, z.ZodType>> = {
  Choice: request.ChoiceShape,
  Product: request.SoldProductShape,
  ProductList: offer.ProductListShape,
  Offer: offer.OfferShape,
  BlendLinkRequest: request.BlendLinkRequestShape,
  BlendLink: blend.BlendLinkAnswerShape,
  OpenedBlend: blend.BlendOpenedShape,
  VerdictRequest: request.VerdictRequestShape,
  Verdict: blend.VerdictAnswerShape,
  NearestRequest: request.NearestRequestShape,
  Nearest: blend.NearestAnswerShape,
  WishesRequest: request.WishesRequestShape,
  WishesAnswer: blend.WishesAnswerShape,
  QuoteRequest: request.QuoteRequestShape,
  QuoteSnapshot: request.QuoteSnapshotShape,
  Quote: blend.QuoteAnswerShape,
  KeySet: order.KeySetShape,
  OrderRequest: request.OrderRequestShape,
  OrderAnswer: order.OrderAnswerShape,
  OrderStanding: order.OrderStandingShape,
  HostOrderRequest: HostOrderRequestShape,
  HostOrder: order.HostOrderShape,
  HostOrders: order.HostOrdersShape,
  CancelRequest: CancelRequestShape,
  OrderEvent: order.OrderEventShape,
  EventReceived: order.EventReceivedShape,
  Finding: blend.SaidFindingShape,
  Problem: order.ProblemShape,
};

const NAMES = new Map(Object.entries(NAMED).map(([name, shape]) => [shape, name]));

/** A schema of JSON Schema 2020-12, as OpenAPI 3.1 takes it in. */
export type JsonSchema = Readonly<Record<string, unknown>>;

/** The named schemas, each referring to the others by name. */
export function namedSchemas(): Record<string, JsonSchema> {
  const registry = z.registry<{ id: string }>();
  for (const [id, shape] of Object.entries(NAMED)) registry.add(shape, { id });
  const { schemas } = z.toJSONSchema(registry, { uri: refTo, io: "input" });
  return Object.fromEntries(
    Object.entries(schemas).map(([name, schema]) => [name, withoutNoise(schema) as JsonSchema]),
  );
}

/** A reference where the schema has a name, else the schema itself. */
export function schemaOf(shape: z.ZodType): JsonSchema {
  const name = NAMES.get(shape);
  return name
    ? { $ref: refTo(name) }
    : (withoutNoise(z.toJSONSchema(shape, { io: "input" })) as JsonSchema);
}

function refTo(name: string): string {
  return `#/components/schemas/${name}`;
}

/** Where a schema lives is said by its place; that a whole number stays exact in a double goes without saying. */
function withoutNoise(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(withoutNoise);
  if (typeof value !== "object" || value === null) return value;
  return Object.fromEntries(
    Object.entries(value)
      .filter(([key, entry]) => {
        if (key === "$schema" || key === "$id") return false;
        return Math.abs(Number(entry)) !== Number.MAX_SAFE_INTEGER;
      })
      .map(([key, entry]) => [key, withoutNoise(entry)]),
  );
}
