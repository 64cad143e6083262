/**
 * Requests that nobody should send, to the API by its own description: each is answered in time by what was asked for
 * or a problem that says what was wrong.
 *
 * SOFTSET_FUZZ=100000 sends more, here and to the forms together; SOFTSET_SEED sends the same again. What was once
 * found, or is known to trip programs up, stands in found.json and is tried every time.
 */
import fc from "fast-check";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { type JsonSchema, NAMED } from "#service/plugin/named-shapes.ts";
import type { Description } from "#service/plugin/openapi.ts";
import { OPERATIONS } from "#service/plugin/operations.ts";
import { aQuoteRequest } from "../helpers/shop.ts";
import type { GuardedShop, Role } from "../security/guarded-shop.ts";
import { type TriedShop, complaintsOf, openTriedShop } from "./complaints.ts";
import found from "./found.json" with { type: "json" };
import { fromSchema } from "./from-schema.ts";
import { LONGEST, edits, hostileText, spoiled } from "./hostile.ts";
import { GREAT_RUN_MS, SEED, drawn, runs } from "./runs.ts";

let tried: TriedShop;
beforeAll(async () => {
  tried = await openTriedShop();
});
afterAll(() => tried.close());

/** What a header may hold at all; everything else no client can send. */
const inHeader = (text: string) =>
  text
    .replaceAll(/[^ -~\u00a0-ÿ]/g, "?")
    .trim()
    .slice(0, 4000);
const inPath = (text: string) =>
  encodeURIComponent(text.replaceAll(/\p{Cs}/gu, "\ufffd")).slice(0, 4000);

const TYPES = [
  "application/json",
  "application/problem+json; charset=x",
  "text/plain",
  "multipart/form-data",
  "",
];

describe("the API", () => {
  it("has an answer for whatever is sent", { timeout: GREAT_RUN_MS }, async () => {
    const asked = await tried.shop.request("/v1/openapi.json");
    const { components } = (await asked.json()) as Description;
    const { schemas } = components as { schemas: Record<string, JsonSchema> };
    const whole = { ...aQuoteRequest(), wishes: { feel: "softer" }, quote: "a.b.c", why: "no" };
    const operation = fc.constantFrom(...OPERATIONS).chain((asking) => {
      const names = asking.body?.map((shape) => shapeName(schemas, asking.path, shape)) ?? [];
      const described = names.map((schema) => fromSchema(schema, schemas));
      const keys = ["product", "choice", "jar", "quantity", "zone", "wishes", "quote", "why"];
      const valid = fc.subarray(keys).map((kept) => pick(whole, kept));
      const body = fc.oneof(fc.constant(pick(whole, keysOf(asking.path))), valid, ...described);
      return fc.record({
        asking: fc.constant(asking),
        parameters: fc.array(fc.option(hostileText, { freq: 2 }), { minLength: 2, maxLength: 2 }),
        query: fc.option(
          fc.dictionary(
            fc.constantFrom("zone", "language", "since", "after", "most", "x"),
            hostileText,
          ),
        ),
        key: fc.constantFrom(undefined, "real", "real", "bad"),
        idempotency: fc.option(hostileText),
        type: fc.oneof({ weight: 9, arbitrary: fc.constant(TYPES[0]!) }, fc.constantFrom(...TYPES)),
        cut: fc.oneof({ weight: 12, arbitrary: fc.constant(null) }, fc.nat(200)),
        body,
        edits: edits.filter(({ length }) => length > 0),
        more: fc.nat(400),
      });
    });
    function* requests() {
      for (const one of drawn(operation, runs(2400))) {
        const { asking, key, idempotency } = one;
        const [first, second] = one.parameters.map((each, at) =>
          inPath(each ?? ["everyday", "none"][at]!),
        );
        const path = asking.path.replace(/\{\w+\}/, first!).replace(/\{\w+\}/, second!);
        const query = new URLSearchParams(one.query ?? {}).toString();
        const text = JSON.stringify(spoiled(one.body, one.edits)) ?? "";
        yield {
          role: key === "real" ? ("key" as const) : ("nobody" as const),
          method: asking.method.toUpperCase(),
          path: `/v1${path}${query && `?${query}`}`,
          accept: "application/json",
          headers: {
            "content-type": one.type,
            ...(key === "bad" ? { authorization: inHeader(idempotency ?? "Bearer x") } : {}),
            ...(idempotency === null ? {} : { "idempotency-key": inHeader(idempotency) }),
            "stripe-signature": inHeader(idempotency ?? ""),
          },
          body: one.more === 0 ? LONGEST : text.slice(0, one.cut === null ? text.length : one.cut),
        };
      }
    }
    expect(await tried.tryAll(requests()), `seed ${SEED}`).toEqual([]);
    tried.tell();
  });
});

const pick = (from: object, keys: readonly string[]) =>
  Object.fromEntries(Object.entries(from).filter(([key]) => keys.includes(key)));

function keysOf(path: string): string[] {
  if (path === "/quotes") return ["product", "choice", "jar", "quantity"];
  if (path === "/blend-links") return ["product", "choice", "jar"];
  return path === "/wishes" ? ["product", "choice", "wishes"] : ["product", "choice"];
}

function shapeName(
  schemas: Readonly<Record<string, JsonSchema>>,
  path: string,
  shape: unknown,
): JsonSchema {
  const found = Object.entries(NAMED).find(([, named]) => named === shape)?.[0];
  if (!found) throw new Error(`no schema for a body of ${path}`);
  return schemas[found]!;
}

describe("what was once found", () => {
  it.each(found)("$why", async ({ role, path, accept, type, body, times }) => {
    const headers = { "content-type": type };
    const sent = { role: role as Role, method: "POST", path, accept, headers };
    const whole = body.repeat(times ?? 1);
    expect(await tried.complaint({ ...sent, body: whole })).toBeUndefined();
  });
});

describe("a complaint", () => {
  const policy = { "content-security-policy": "default-src 'none'; frame-ancestors 'none'" };
  const page = { ...policy, "content-type": "text/html" };
  const problem = { ...policy, "content-type": "application/problem+json" };
  const name = `zqmark"'<i>&qz`;

  it.each([
    ["a failure", '{"code":"service.failed"}', 500, problem, "500 service.failed"],
    ["a refusal that is no problem document", "no", 400, policy, "400 as"],
    ["a name that got out", `<p>${name}</p>`, 200, page, "unescaped"],
    ["a page without a policy", "<p>", 200, { "content-type": "text/html" }, "without a policy"],
  ])("is made of %s", async (_, body, status, headers, says) => {
    const ask = async () => new Response(body, { status, headers });
    const { complaint } = complaintsOf({ ask, test: { logged: [] } } as unknown as GuardedShop);
    const sent = { role: "nobody", method: "GET", path: "/", accept: "", headers: {} } as const;
    expect(await complaint({ ...sent, body: "" })).toContain(says);
  });
});
