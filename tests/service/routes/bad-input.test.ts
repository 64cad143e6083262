/**
 * Bad input from outside: each a named problem, none a 500, nothing stored.
 */
import { sql } from "drizzle-orm";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { Problem, QuoteAnswer } from "#core/wire.ts";
import { orders, quotes } from "#data/schema.ts";
import { type TestShop, aQuoteRequest, openTestShop } from "../../helpers/shop.ts";

let shop: TestShop;
beforeAll(async () => {
  shop = await openTestShop();
});
afterAll(() => shop.close());

const good = aQuoteRequest();
const withButters = (butters: unknown) => ({ ...good, choice: { ...good.choice, butters } });
const shea = (share: unknown) => [
  { ingredient: "shea-butter", share },
  { ingredient: "cocoa-butter", share: 1000 },
];

const deep = (depth: number): unknown => (depth === 0 ? 1 : [deep(depth - 1)]);

interface Row {
  readonly about: string;
  readonly body: unknown;
  readonly status: number;
  readonly code: string;
  readonly finding?: string;
  readonly headers?: Record<string, string>;
}

const ROWS: readonly Row[] = [
  {
    about: "a body that is no JSON",
    body: "{",
    status: 400,
    code: "request.body.malformed",
  },
  {
    about: "an empty body",
    body: "",
    status: 400,
    code: "request.body.malformed",
  },
  ...[
    ["null", null],
    ["a list", []],
    ["lists in lists, a hundred deep", deep(100)],
  ].map(([what, body]): Row => ({
    about: `a body that is ${what as string}`,
    body,
    status: 422,
    code: "request.body.invalid",
  })),
  ...["0x10", "６０００", "60,5", "+6000", "06000"].map((figure): Row => ({
    about: `a share written as ${figure}, which is no number in JSON`,
    body: JSON.stringify(withButters(shea(6000))).replace("6000", figure),
    status: 400,
    code: "request.body.malformed",
  })),
  ...["", "application/x-foo", "application/jsonp", "multipart/form-data"].map((type): Row => ({
    about: `JSON that says it is “${type}”`,
    body: good,
    headers: { "content-type": type },
    status: 415,
    code: "request.body.wrong-type",
  })),
  {
    about: "JSON that says it is text",
    body: good,
    headers: { "content-type": "text/plain" },
    status: 415,
    code: "request.body.wrong-type",
  },
  {
    about: "a body over 64 KiB",
    body: JSON.stringify({ ...good, jar: "j".repeat(70_000) }),
    status: 413,
    code: "request.body.too-large",
  },
  {
    about: "a key nobody asked for",
    body: { ...good, discount: 50 },
    status: 422,
    code: "request.body.invalid",
  },
  {
    about: "a price sent along",
    body: { ...good, jarMinor: 1 },
    status: 422,
    code: "request.body.invalid",
  },
  {
    about: "a prototype beside everything else",
    body: `{"__proto__":{"jarMinor":1},${JSON.stringify(good).slice(1)}`,
    status: 422,
    code: "request.body.invalid",
  },
  {
    about: "an id that is a number",
    body: { ...good, product: 5 },
    status: 422,
    code: "request.body.invalid",
  },
  {
    about: "a share that is a text",
    body: withButters(shea("6000")),
    status: 422,
    code: "request.body.invalid",
  },
  {
    about: "101 butters",
    body: withButters(Array.from({ length: 101 }, () => shea(6000)[0])),
    status: 422,
    code: "request.body.invalid",
  },
  {
    about: "the same butter twice",
    body: withButters([...shea(3000), shea(3000)[0]]),
    status: 422,
    code: "compose.choice.refused",
    finding: "compose.part.missing",
  },
  ...[5990, 6010].map((share): Row => ({
    about: `shares that sum to ${(4000 + share) / 100} %`,
    body: withButters(shea(share)),
    status: 422,
    code: "compose.choice.refused",
    finding: "compose.shares.not-whole",
  })),
  ...["-0", "9007199254740993"].map((quantity): Row => ({
    about: `${quantity} jars`,
    body: JSON.stringify({ ...good, quantity: 7777 }).replace("7777", quantity),
    status: 422,
    code: "compose.choice.refused",
    finding: "compose.quantity.out-of-range",
  })),
  {
    about: "NaN, which JSON writes as null",
    body: withButters(shea(Number.NaN)),
    status: 422,
    code: "request.body.invalid",
  },
  {
    about: "infinity smuggled in as 1e999",
    body: JSON.stringify(withButters(shea(6000))).replace("6000", "1e999"),
    status: 422,
    code: "request.body.invalid",
  },
  {
    about: "a negative share",
    body: withButters(shea(-6000)),
    status: 422,
    code: "compose.choice.refused",
    finding: "compose.share.not-a-share",
  },
  {
    about: "a share finer than 0.01 %",
    body: withButters(shea(6000.5)),
    status: 422,
    code: "compose.choice.refused",
    finding: "compose.share.not-a-share",
  },
  {
    about: "shares that do not sum to the whole",
    body: withButters(shea(6001)),
    status: 422,
    code: "compose.choice.refused",
    finding: "compose.shares.not-whole",
  },
  {
    about: "a share one step below its bound",
    body: withButters(shea(4499)),
    status: 422,
    code: "compose.choice.refused",
    finding: "compose.share.below-bound",
  },
  {
    about: "a share one step above its bound",
    body: withButters(shea(7501)),
    status: 422,
    code: "compose.choice.refused",
    finding: "compose.share.above-bound",
  },
  {
    about: "an ingredient nobody knows",
    body: withButters([{ ingredient: "moon-butter", share: 6000 }, shea(0)[1]]),
    status: 422,
    code: "compose.choice.refused",
    finding: "compose.part.unexpected",
  },
  {
    about: "an oil that this place does not offer",
    body: {
      ...good,
      choice: {
        ...good.choice,
        oils: [
          { place: "glide", ingredient: "castor-oil", share: 1500 },
          { place: "care", ingredient: "sunflower-oil", share: 1450 },
        ],
      },
    },
    status: 422,
    code: "compose.choice.refused",
    finding: "compose.oil.not-allowed",
  },
  {
    about: "a product that does not exist",
    body: { ...good, product: "nothing" },
    status: 404,
    code: "compose.product.unknown",
  },
  {
    about: "a jar that does not exist",
    body: { ...good, jar: "bucket" },
    status: 422,
    code: "compose.choice.refused",
    finding: "compose.jar.unknown",
  },
  {
    about: "no jar at all",
    body: { ...good, quantity: 0 },
    status: 422,
    code: "compose.choice.refused",
    finding: "compose.quantity.out-of-range",
  },
  {
    about: "half a jar",
    body: { ...good, quantity: 1.5 },
    status: 422,
    code: "compose.choice.refused",
    finding: "compose.quantity.out-of-range",
  },
  {
    about: "one jar more than the maker takes",
    body: { ...good, quantity: 25 },
    status: 422,
    code: "compose.choice.refused",
    finding: "compose.quantity.out-of-range",
  },
  {
    about: "a prototype in place of a choice",
    body: '{"product":"everyday","jar":"jar-120","quantity":1,"choice":{"__proto__":{}}}',
    status: 422,
    code: "request.body.invalid",
  },
];

describe("POST /v1/quotes", () => {
  it.each(ROWS)("refuses $about with $code", async ({ body, headers, status, code, finding }) => {
    const before = await countQuotes();
    const answer = await shop.post("/v1/quotes", body, headers);
    const problem = (await answer.json()) as Problem;
    expect(problem.code).toBe(code);
    expect(answer.status).toBe(status);
    expect(answer.headers.get("content-type")).toBe("application/problem+json");
    expect(problem.detail.length).toBeGreaterThan(10);
    if (code === "request.body.invalid") {
      expect(problem.errors!.every(({ pointer }) => /^(\/.*)?$/.test(pointer))).toBe(true);
      expect(problem.errors!.length).toBeGreaterThan(0);
    }
    if (finding) {
      expect(problem.findings?.map((each) => each.code)).toContain(finding);
      expect(problem.findings?.every(({ sentence }) => sentence.endsWith("."))).toBe(true);
    }
    expect(await countQuotes()).toBe(before);
  });

  it("refuses a blend that would set too hard, and says so", async () => {
    const { base, oils } = good.choice;
    const butters = [
      { ingredient: "shea-butter", share: 5950 },
      { ingredient: "cocoa-butter", share: 3000 },
    ];
    const light = oils.map((oil) => ({ ...oil, share: 500 }));
    const choice = { base, butters, oils: light };
    const answer = await shop.post("/v1/quotes", { ...good, choice });
    const problem = (await answer.json()) as Problem;
    expect([answer.status, problem.code]).toEqual([422, "judge.blend.refused"]);
    expect(problem.findings?.[0]?.code).toBe("judge.firmness.too-hard");
    expect(problem.findings?.[0]?.sentence).toContain("too hard");
  });

  it("takes shares on their very bounds, of which a step further is refused", async () => {
    const { base, oils } = good.choice;
    const [glide, care] = oils;
    const on = (sheaShare: number, cocoa: number, careShare: number) => ({
      ...good,
      choice: {
        base,
        butters: [
          { ingredient: "shea-butter", share: sheaShare },
          { ingredient: "cocoa-butter", share: cocoa },
        ],
        oils: [glide!, { ...care!, share: careShare }],
      },
    });
    // Shea butter may be 45 to 75 %, cocoa butter 0 to 30; the first oil is 15 %, what the maker adds 0.5 %.
    expect((await shop.post("/v1/quotes", on(4500, 2000, 1950))).status).toBe(201);
    expect((await shop.post("/v1/quotes", on(7500, 0, 950))).status).toBe(201);
    for (const past of [on(7501, 0, 949), on(4499, 2001, 1950)]) {
      const answer = await shop.post("/v1/quotes", past);
      const { findings } = (await answer.json()) as Problem;
      expect([answer.status, findings?.map(({ subject }) => subject)]).toEqual([
        422,
        ["shea-butter"],
      ]);
    }
  });

  it("reads the last of two keys of one name, and prices what it read", async () => {
    const twice = JSON.stringify(good).replace('"quantity":2', '"quantity":1,"quantity":2');
    const answer = await shop.post("/v1/quotes", twice);
    const { quote } = (await answer.json()) as QuoteAnswer;
    expect([answer.status, quote.quantity, quote.totalMinor]).toEqual([
      201,
      2,
      (await shop.quote()).quote.totalMinor,
    ]);
  });

  it("takes the good request that all the bad ones were made from", async () => {
    expect((await shop.post("/v1/quotes", good)).status).toBe(201);
  });

  it("counts a body that comes in pieces and stops it at 64 KiB", async () => {
    let sent = 0;
    const body = new ReadableStream({
      pull(controller) {
        sent += 16_384;
        controller.enqueue(new Uint8Array(16_384).fill(32));
        if (sent > 10_000_000) controller.close();
      },
    });
    const answer = await shop.request("/v1/quotes", {
      method: "POST",
      headers: { "content-type": "application/json" },
      body,
      duplex: "half",
    } as RequestInit);
    expect(answer.status).toBe(413);
    expect(sent).toBeLessThan(200_000);
  });
});

describe("POST /v1/orders", () => {
  it.each([
    ["an address to come back to", { successUrl: "https://evil.example/" }],
    ["a price", { totalMinor: 1 }],
    ["a state", { state: "paid" }],
    ["another shop", { shopId: "otherwick" }],
    ["a prototype", JSON.parse('{"__proto__":{"state":"paid"}}') as object],
  ])("takes nothing but a quote: not %s", async (_, more) => {
    const { token } = await shop.quote();
    const body = { quote: token };
    for (const [key, value] of Object.entries(more)) {
      Object.defineProperty(body, key, { value: value as unknown, enumerable: true });
    }
    const answer = await shop.post("/v1/orders", body);
    expect([answer.status, ((await answer.json()) as Problem).code]).toEqual([
      422,
      "request.body.invalid",
    ]);
    expect(await shop.db.q.select().from(orders)).toEqual([]);
  });
});

describe("anywhere", () => {
  it("answers an address that does not exist with a problem for machines and a page for people", async () => {
    const machine = await shop.request("/v1/nothing");
    expect(machine.status).toBe(404);
    expect(((await machine.json()) as Problem).code).toBe("request.route.unknown");
    const person = await shop.request("/nothing", { headers: { accept: "text/html" } });
    expect(person.status).toBe(404);
    expect(await person.text()).toContain("There is nothing at this address.");
  });

  it("never shows the maker's costs or suppliers to a customer", async () => {
    const { quote, token } = await shop.quote();
    const offer = await (await shop.request("/v1/products/everyday")).text();
    for (const text of [JSON.stringify(quote), atob(token.split(".")[1]!), offer]) {
      expect(text).not.toMatch(/packMinor|supplier|labour|costMinor|Invented supplier/);
    }
  });
});

async function countQuotes(): Promise<number> {
  const [row] = await shop.db.q.select({ n: sql<number>`count(*)` }).from(quotes);
  return row!.n;
}
