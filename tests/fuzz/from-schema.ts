/**
 * Bodies as a JSON Schema describes them: right in shape, and now and then hostile in a leaf.
 */
import fc from "fast-check";
import type { JsonSchema } from "#service/plugin/named-shapes.ts";
import { hostileText } from "./hostile.ts";

/** What a text may be to get past the first look. */
const KNOWN = [
  "everyday",
  "soft-shea",
  "shea-butter",
  "cocoa-butter",
  "glide",
  "care",
  "jojoba-oil",
  "jar-120",
  "near",
];
const ITEMS_MOST = 3;

/** @param named the schemas that a reference may name */
export function fromSchema(
  schema: JsonSchema,
  named: Readonly<Record<string, JsonSchema>>,
): fc.Arbitrary<unknown> {
  const of = (inner: unknown) => fromSchema(inner as JsonSchema, named);
  const { $ref, anyOf, oneOf, type, items, properties = {}, required = [] } = schema;
  if (typeof $ref === "string") return of(named[$ref.slice($ref.lastIndexOf("/") + 1)]);
  const choices = (anyOf ?? oneOf) as readonly JsonSchema[] | undefined;
  if (choices) return fc.oneof(...choices.map(of));
  if ("const" in schema) return fc.constant(schema["const"]);
  if (Array.isArray(schema["enum"])) return fc.constantFrom(...(schema["enum"] as unknown[]));
  switch (type) {
    case "object": {
      const model = Object.fromEntries(
        Object.entries(properties as object).map(([key, inner]) => [key, of(inner)]),
      );
      return fc.record(model, { requiredKeys: required as string[] });
    }
    case "array":
      return fc.array(of(items ?? {}), { maxLength: ITEMS_MOST });
    case "integer":
    case "number":
      return fc.oneof(fc.integer({ min: 0, max: 10_000 }), fc.double({ noNaN: true }));
    case "boolean":
      return fc.boolean();
    default:
      return fc.oneof(fc.constantFrom(...KNOWN), hostileText);
  }
}
