/**
 * The API's description, OpenAPI 3.1, made from the same schemas that requests are parsed with.
 */
import { type ProblemCode, problemKind } from "../problem.ts";
import { type JsonSchema, namedSchemas, schemaOf } from "./named-shapes.ts";
import { OPERATIONS, type Operation } from "./operations.ts";
import { ORDER_EVENT_TYPES, OrderEventShape } from "./shapes-order.ts";
import type * as z from "zod";

/** Any operation may meet these. */
const ALWAYS: readonly ProblemCode[] = [
  ...(["service.not-ready", "service.failed", "service.database.busy"] as const),
  ...(["service.database.full", "service.database.read-only", "service.database.damaged"] as const),
];

export interface Description {
  readonly openapi: "3.1.0";
  readonly info: { readonly title: string; readonly version: string; readonly description: string };
  readonly servers: readonly { readonly url: string }[];
  readonly tags: readonly { readonly name: string; readonly description: string }[];
  readonly paths: Readonly<Record<string, Readonly<Record<string, object>>>>;
  readonly webhooks: Readonly<Record<string, object>>;
  readonly components: object;
}

const TAGS = [
  { name: "compose", description: "What is for sale, and choices that travel." },
  { name: "judge", description: "Choices and what can be made of them. Nothing is stored." },
  { name: "price", description: "Quotes, and the keys that check them." },
  { name: "order", description: "Orders of customers." },
  { name: "host", description: "For the server of a host shop, with its key." },
];

/**
 * Describe the API.
 * @param url address of the shop, without a slash at its end
 */
export function describeApi(url: string): Description {
  const paths: Record<string, Record<string, object>> = {};
  for (const operation of OPERATIONS) {
    const path = `/v1${operation.path}`;
    paths[path] = { ...paths[path], [operation.method]: describeOperation(operation) };
  }
  return {
    openapi: "3.1.0",
    info: {
      title: "Softset",
      version: "1",
      description:
        "Whipped body butter made to order: compose, judge, price, order. Shares are integers of hundredths of a percent and sum to 10000; amounts are integer minor units. Fields may be added to answers; none changes its meaning.",
    },
    servers: [{ url }],
    tags: TAGS,
    paths,
    webhooks: Object.fromEntries(ORDER_EVENT_TYPES.map((type) => [type, describeEvent(type)])),
    components: {
      schemas: namedSchemas(),
      securitySchemes: {
        key: {
          type: "http",
          scheme: "bearer",
          description:
            "A key that the maker made under Shop. It belongs on a server, never in a page.",
        },
      },
    },
  };
}

function describeOperation(operation: Operation): object {
  const { id, chapter, summary, words, key, answers, problems } = operation;
  return {
    operationId: id,
    tags: [chapter],
    summary,
    ...(words ? { description: words } : {}),
    ...(key ? { security: key === "needed" ? [{ key: [] }] : [{}, { key: [] }] } : {}),
    parameters: parametersOf(operation),
    ...bodyOf(operation),
    responses: {
      ...Object.fromEntries(
        Object.entries(answers).map(([status, answer]) => [
          status,
          {
            description: answer.words,
            content: { "application/json": { schema: anyOf(answer.shapes) } },
          },
        ]),
      ),
      ...problemResponses([...problems, ...ALWAYS]),
    },
  };
}

function parametersOf({ parameters = {}, query, headers = {} }: Operation): object[] {
  const properties = query ? (schemaOf(query)["properties"] as Record<string, JsonSchema>) : {};
  return [
    ...Object.entries(parameters).map(([name, description]) => ({
      ...{ name, in: "path", required: true, description, schema: { type: "string" } },
    })),
    ...Object.entries(properties).map(([name, { description, ...schema }]) => ({
      ...{ name, in: "query", required: false, schema },
      ...(description ? { description } : {}),
    })),
    ...Object.entries(headers).map(([name, { words, needed }]) => ({
      ...{ name, in: "header", required: needed, description: words, schema: { type: "string" } },
    })),
  ];
}

function bodyOf({ body, rawBody }: Operation): object {
  if (rawBody) {
    const content = { "application/json": { schema: { description: rawBody } } };
    return { requestBody: { required: true, content } };
  }
  if (!body) return {};
  return {
    requestBody: { required: true, content: { "application/json": { schema: anyOf(body) } } },
  };
}

function anyOf(shapes: readonly z.ZodType[]): JsonSchema {
  const [first, ...more] = shapes.map(schemaOf);
  return more.length === 0 ? first! : { anyOf: [first, ...more] };
}

/** Problems by their status, each with the codes that may come with it. */
function problemResponses(codes: readonly ProblemCode[]): Record<string, object> {
  const byStatus = new Map<number, ProblemCode[]>();
  for (const code of new Set(codes)) {
    const { status } = problemKind(code);
    byStatus.set(status, [...(byStatus.get(status) ?? []), code]);
  }
  return Object.fromEntries(
    [...byStatus]
      .sort(([one], [other]) => one - other)
      .map(([status, known]) => [
        String(status),
        {
          description: known.map((code) => `${code}: ${problemKind(code).title}.`).join(" "),
          content: {
            "application/problem+json": {
              schema: {
                allOf: [
                  { $ref: "#/components/schemas/Problem" },
                  { properties: { code: { enum: known } } },
                ],
              },
            },
          },
        },
      ]),
  );
}

function describeEvent(type: string): object {
  return {
    post: {
      operationId: `on.${type}`,
      summary: `The shop tells you: ${type}`,
      description:
        "Signed by the Standard Webhooks specification: check webhook-signature over webhook-id, webhook-timestamp and the body. It may come twice and out of order; the id tells a second one, and the state is the order's own to ask for.",
      parameters: ["webhook-id", "webhook-timestamp", "webhook-signature"].map((name) => ({
        ...{ name, in: "header", required: true, schema: { type: "string" } },
      })),
      requestBody: {
        required: true,
        content: { "application/json": { schema: schemaOf(OrderEventShape) } },
      },
      responses: { "2XX": { description: "Taken in. Anything else is tried again." } },
    },
  };
}
