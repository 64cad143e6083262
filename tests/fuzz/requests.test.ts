/**
 * Requests that nobody should send, to the API by its description and to every form there is: each is answered in time,
 * by a page or a problem that says what was wrong, and nothing in the shop fails.
 *
 * SOFTSET_FUZZ=100000 sends more, SOFTSET_SEED the same again. What was once found stands in found.json and is tried
 * first.
 */
import fc from "fast-check";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { Description } from "#service/plugin/openapi.ts";
import { type JsonSchema, NAMED } from "#service/plugin/named-shapes.ts";
import { OPERATIONS } from "#service/plugin/operations.ts";
import { aQuoteRequest } from "../helpers/shop.ts";
import {
  type GuardedShop,
  type Role,
  addressOf,
  openGuardedShop,
} from "../security/guarded-shop.ts";
import { unescapedIn } from "../security/hostile-names.ts";
import { RULES } from "../security/route-rules.ts";
import { type Form, formsOn } from "./forms.ts";
import { fromSchema } from "./from-schema.ts";
import { LONGEST, type Edit, edits, hostileText, spoiled } from "./hostile.ts";
import found from "./found.json" with { type: "json" };
import { GREAT_RUN_MS, SEED, TELLS, drawn, runs } from "./runs.ts";

/** Work of the processor, so that a busy machine is no complaint [ms] */
const WORK_MOST_MS = 1000;

interface Sent {
  readonly role: Role;
  readonly method: string;
  readonly path: string;
  readonly accept: string;
  readonly headers: Readonly<Record<string, string>>;
  readonly body: string | FormData | URLSearchParams;
}

let shop: GuardedShop;
beforeAll(async () => {
  shop = await openGuardedShop();
});
afterAll(() => shop.close());

let began = process.cpuUsage();
const told = new Map<string, number>();

/** Send, and say what is wrong with the answer. */
async function complaint({
  role,
  method,
  path,
  accept,
  headers,
  body,
}: Sent): Promise<string | undefined> {
  const before = process.cpuUsage();
  const answer = await shop.ask(role, method, path, { accept, headers, body });
  const text = await answer.text();
  const { user, system } = process.cpuUsage(before);
  const workMs = (user + system) / 1000;
  const type = (answer.headers.get("content-type") ?? "").split(";")[0]!;
  const isProblem = type === "application/problem+json";
  const code = isProblem ? (JSON.parse(text) as { code: string }).code : "";
  told.set(`${answer.status} ${code}`, (told.get(`${answer.status} ${code}`) ?? 0) + 1);
  if (answer.status >= 500 && code !== "payment.till.rejected") {
    const [last] = shop.test.logged.slice(-1);
    return `${answer.status} ${code}: ${String(last?.["cause"]).slice(0, 400)}`;
  }
  if (workMs > WORK_MOST_MS) return `took ${Math.round(workMs)} ms of work`;
  if (answer.status >= 400 && type !== "text/html" && !isProblem)
    return `${answer.status} as ${type}`;
  if (type === "text/html" && unescapedIn(text).length > 0)
    return `unescaped: ${unescapedIn(text)[0]}`;
  return undefined;
}

async function tryAll(requests: Iterable<Sent | Promise<Sent>>): Promise<string[]> {
  const odd: string[] = [];
  for await (const sent of requests) {
    const wrong = await complaint(sent).catch((error: unknown) => `threw ${String(error)}`);
    if (wrong && odd.length < 20) odd.push(`${wrong} <- ${show(sent)}`);
  }
  return odd;
}

function show({ body, ...sent }: Sent): string {
  const said = body instanceof FormData ? JSON.stringify([...body]) : String(body);
  return JSON.stringify({ ...sent, body: said.slice(0, 2000) });
}

/** What a header may hold at all; everything else no client can send. */
const inHeader = (text: string) =>
  text
    .replaceAll(/[^ -~\u00a0-ÿ]/g, "?")
    .trim()
    .slice(0, 4000);
const inPath = (text: string) => encodeURIComponent(text.toWellFormed()).slice(0, 4000);

const TYPES = [
  "application/json",
  "application/problem+json; charset=x",
  "text/plain",
  "multipart/form-data",
  "",
];

describe("the API", () => {
  it("has an answer for whatever is sent", { timeout: GREAT_RUN_MS }, async () => {
    const asked = await shop.request("/v1/openapi.json");
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
        edits,
        more: fc.nat(400),
      });
    });
    function* requests() {
      for (const one of drawn(operation, runs(2300))) {
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
    expect(await tryAll(requests()), `seed ${SEED}`).toEqual([]);
    tell("API");
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

describe("every form", () => {
  it("has an answer for whatever is typed", { timeout: GREAT_RUN_MS }, async () => {
    const pages = new Map<string, readonly Form[]>();
    const read = async (path: string) => {
      const answer = await shop.ask("owner", "GET", path);
      pages.set(path, formsOn(await answer.text(), path));
    };
    const readable = [...RULES.keys()].filter(
      (route) => route.startsWith("GET ") && !/\.(csv|json)$/.test(route),
    );
    for (const route of readable) await read(addressOf(route.slice(4), shop.things));
    const actions = new Map(
      [...pages].flatMap(([page, forms]) => forms.map(({ action }) => [action, page])),
    );
    expect(actions.size).toBeGreaterThan(60);
    const typed = fc.record({
      form: fc.nat(9999),
      edits: fc.array(
        fc.record({
          at: fc.nat(999),
          how: fc.constantFrom("type", "type", "type", "type", "leave out", "twice", "file", "add"),
          text: hostileText,
        }),
        { minLength: 1, maxLength: 4 },
      ),
      as: fc.constantFrom("form", "form", "form", "form", "parts", "json"),
      accept: fc.constantFrom("text/html", "text/html", "application/json"),
      more: fc.nat(400),
    });
    async function* requests() {
      const all = [...actions];
      for (const one of drawn(typed, runs(700))) {
        const [action, page] = all[one.form % all.length]!;
        if (one.form % 5 === 0) await read(page); // what stands there may have changed
        const form = pages.get(page)!.find((each) => each.action === action);
        yield {
          ...{ role: "owner" as const, method: "POST", path: action, accept: one.accept },
          ...filled(form?.fields ?? [], one),
        };
      }
    }
    expect(await tryAll(requests() as unknown as Iterable<Sent>), `seed ${SEED}`).toEqual([]);
    tell("forms");
  });
});

interface Typed {
  readonly edits: readonly { readonly at: number; readonly how: string; readonly text: string }[];
  readonly as: string;
  readonly more: number;
}

function filled(
  fields: Form["fields"],
  { edits: changes, as, more }: Typed,
): Pick<Sent, "headers" | "body"> {
  const now: [string, string | File][] = fields.map(([name, value]) => [name, value]);
  for (const { at, how, text } of changes) {
    const place = now.length === 0 ? -1 : at % now.length;
    const [name, value] = now[place] ?? ["x", ""];
    if (how === "add" || place < 0) now.push([text.slice(0, 50) || "x", text]);
    else if (how === "leave out") now.splice(place, 1);
    else if (how === "twice") now.push([name, value]);
    else if (how === "file") now[place] = [name, new File([text], text.slice(0, 20))];
    else now[place] = [name, more === 0 ? LONGEST : text];
  }
  const texts = now.map(([name, value]): [string, string] => [
    name,
    value instanceof File ? value.name : value,
  ]);
  if (as === "json") {
    return {
      headers: { "content-type": "application/json" },
      body: JSON.stringify(Object.fromEntries(texts)),
    };
  }
  if (as === "form") return { headers: {}, body: new URLSearchParams(texts) };
  const body = new FormData();
  for (const [name, value] of now) body.append(name, value);
  return { headers: {}, body };
}

describe("what was once found", () => {
  it.each(found)("$why", async ({ role, method, path, accept, headers, body }) => {
    const sent = {
      role: role as Role,
      method,
      path,
      accept,
      headers: { ...headers } as Record<string, string>,
      body,
    };
    expect(await complaint(sent)).toBeUndefined();
  });
});

function tell(what: string): void {
  if (!TELLS) return;
  const kinds = [...told]
    .sort(([, one], [, other]) => other - one)
    .map(([kind, n]) => `${n} ${kind}`);
  const { user, system } = process.cpuUsage(began);
  const workS = Math.round((user + system) / 1e5) / 10;
  const mib = Math.round(process.memoryUsage().rss / 2 ** 20);
  console.log(`${what}: seed ${SEED}, ${workS} s of work, ${mib} MiB; ${kinds.join(", ")}`);
  told.clear();
  began = process.cpuUsage();
}
