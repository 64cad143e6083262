/**
 * What whoever watches over the shop sees: alive, ready, counted, and a log with nobody in it.
 */
import SQLite from "better-sqlite3";
import { sql } from "drizzle-orm";
import { closeSync, openSync, readFileSync, rmSync, writeSync } from "node:fs";
import { dirname, join } from "node:path";
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from "vitest";
import type { OrderAnswer } from "#core/wire.ts";
import { orders } from "#data/schema.ts";
import { logLine } from "#service/operations/log-line.ts";
import { countRequests } from "#service/operations/request-counts.ts";
import { writeMetrics } from "#service/operations/open-metrics.ts";
import type { CheckResult } from "#service/operations/readiness.ts";
import { type RunningService, runService } from "../../helpers/running-shop.ts";
import { startLogged } from "./logged-service.ts";
import { type TestShop, aQuoteRequest, freshFile, openTestShop } from "../../helpers/shop.ts";

let shop: TestShop;
let file: string;
beforeEach(async () => {
  file = freshFile();
  shop = await openTestShop({}, file);
});
afterEach(() => shop.close());

async function ready() {
  const answer = await shop.request("/readyz");
  const { checks } = (await answer.json()) as { checks: CheckResult[] };
  const broken = checks.filter(({ holds }) => !holds);
  return { status: answer.status, broken: broken.map(({ check }) => check), sentences: broken };
}

async function order() {
  const { token } = await shop.quote();
  return shop.post("/v1/orders", { quote: token });
}

const pragma = (text: string) => shop.db.q.run(sql.raw(`pragma ${text}`));

describe("health", () => {
  it("is alive and ready", async () => {
    expect((await shop.request("/healthz")).status).toBe(200);
    expect(await ready()).toMatchObject({ status: 200, broken: [] });
  });

  it("is not ready while a migration is due, and still alive", async () => {
    await shop.db.q.run(
      sql`delete from __drizzle_migrations where rowid = (select max(rowid) from __drizzle_migrations)`,
    );
    const { status, broken, sentences } = await ready();
    expect([status, broken]).toEqual([503, ["migrations"]]);
    expect(sentences[0]!.sentence).toMatch(/has not had 0\d{3}_/);
    expect((await shop.request("/healthz")).status).toBe(200);
  });

  it("is not ready once a newer version has changed the tables", async () => {
    await shop.db.q.run(
      sql`insert into __drizzle_migrations (hash, created_at) values ('x', 9999999999999)`,
    );
    expect(await ready()).toMatchObject({ broken: ["migrations"] });
  });

  it("is not ready when the clock jumped back, also after another event", async () => {
    expect((await order()).status).toBe(201);
    shop.pass(-100);
    expect((await ready()).status).toBe(200);
    shop.pass(-7100);
    expect((await order()).status).toBe(201); // nothing a customer does waits for the clock
    const { status, broken, sentences } = await ready();
    expect([status, broken]).toEqual([503, ["clock"]]);
    expect(sentences[0]!.sentence).toContain("The clock is 7200 seconds behind");
    shop.pass(7200);
    expect((await ready()).status).toBe(200);
  });
});

describe("a fault of the database", () => {
  it.each([
    [
      "a full disk",
      "full",
      () => pragma("max_page_count = 1"),
      () => pragma("max_page_count = 1000000"),
    ],
    [
      "a read-only disk",
      "read-only",
      () => pragma("query_only = on"),
      () => pragma("query_only = off"),
    ],
  ])(
    "such as %s refuses an order, loses nothing and says when to come again",
    async (_, name, begin, end) => {
      const { token } = await shop.quote();
      await begin();
      // Pages that are there already take a few rows more.
      let answer = await shop.post("/v1/orders", { quote: token });
      for (let n = 0; answer.status === 201 && n < 50; n++)
        answer = await shop.post("/v1/quotes", aQuoteRequest());
      expect(answer.status).toBe(503);
      expect(answer.headers.get("retry-after")).toBe("300");
      expect(await answer.json()).toMatchObject({ code: `service.database.${name}` });
      const broken = name === "full" ? [] : ["writing"];
      if (broken.length > 0) expect((await ready()).broken).toEqual(broken);
      await end();
      shop.pass(10);
      expect((await ready()).status).toBe(200);
      expect((await order()).status).toBe(201);
      expect(await shop.db.q.all(sql`pragma integrity_check`)).toEqual([{ integrity_check: "ok" }]);
    },
  );

  it("such as another process that holds it is told as busy, and passes", async () => {
    const { token } = await shop.quote();
    await pragma("busy_timeout = 5");
    const other = new SQLite(file);
    other.exec("begin immediate");
    const refused = await shop.post("/v1/orders", { quote: token });
    expect(refused.status).toBe(503);
    expect(refused.headers.get("retry-after")).toBe("5");
    const problem = (await refused.json()) as { code: string; instance: string };
    expect(problem.code).toBe("service.database.busy");
    expect(await ready()).toMatchObject({ status: 503, broken: ["writing"] });
    // The log has it under the id that the problem names.
    expect(problem.instance).toBe(`urn:uuid:${String(shop.logged.at(-1)!["request"])}`);
    other.close();
    expect((await shop.post("/v1/orders", { quote: token })).status).toBe(201);
    expect(await shop.db.q.select({ id: orders.id }).from(orders)).toHaveLength(1);
  });

  it("such as a damaged page is named", async () => {
    expect((await order()).status).toBe(201);
    const sqlite = new SQLite(file);
    sqlite.pragma("wal_checkpoint(truncate)");
    const { page } = sqlite
      .prepare<[], { page: number }>(
        "select rootpage as page from sqlite_master where name = 'quotes'",
      )
      .get()!;
    const handle = openSync(file, "r+");
    writeSync(handle, new Uint8Array(4096).fill(0xa5), 0, 4096, (page - 1) * 4096);
    closeSync(handle);
    sqlite.exec("delete from order_events"); // so that the shop reads the file anew
    sqlite.close();
    const answer = await shop.post("/v1/quotes", aQuoteRequest());
    expect(answer.status).toBe(503);
    expect(await answer.json()).toMatchObject({ code: "service.database.damaged" });
  });
});

describe("the id of a request", () => {
  const idOf = async (sent: string) => {
    const answer = await shop.request("/v1/nothing", { headers: { "x-request-id": sent } });
    return ((await answer.json()) as { instance: string }).instance;
  };

  it("is the proxy's when that is a UUID, and ours for anything else", async () => {
    const id = "0f8fad5b-d9cb-469f-a165-70867728950e";
    expect(await idOf(id)).toBe(`urn:uuid:${id}`);
    expect(await idOf(id.toUpperCase())).toBe(`urn:uuid:${id}`);
    for (const sent of ["someone@mail.example", `${id}x`, "", "a".repeat(5000)]) {
      expect(await idOf(sent)).toMatch(/^urn:uuid:[0-9a-f-]{36}$/);
      expect(await idOf(sent)).not.toContain(sent || "never");
    }
  });
});

describe("the counts", () => {
  it("are OpenMetrics: classes that hold those below, one answer counted once", () => {
    const { count, families } = countRequests();
    const answered = { request: "", method: "GET", route: '/a/:b"', status: 200 };
    count({ ...answered, ms: 4 });
    count({ ...answered, ms: 700 });
    count({ ...answered, status: 503, ms: 20_000 });
    const text = writeMetrics(families());
    expect(text).toContain(
      'softset_requests_total{method="GET",route="/a/:b\\"",status="2xx"} 2\n',
    );
    expect(text).toContain(
      'softset_requests_total{method="GET",route="/a/:b\\"",status="5xx"} 1\n',
    );
    const bucket = (le: string) =>
      Number(new RegExp(`_bucket\\{route="[^}]*",le="${le}"\\} (\\d+)`).exec(text)?.[1]);
    expect(["0.005", "0.5", "1.0", "10.0", "\\+Inf"].map(bucket)).toEqual([1, 1, 2, 2, 3]);
    expect(text).toContain('softset_answer_seconds_sum{route="/a/:b\\""} 20.704\n');
    expect(text.endsWith("# EOF\n")).toBe(true);
  });
});

describe("a line of the log", () => {
  it("loses the values of a query that failed, and keeps where it failed", () => {
    const cause =
      "Error: Failed query: insert into orders values (?)\nparams: Jane Doe,\njane@mail.example\n    at run (a.ts:1)\n    at b";
    const line = logLine(new Date(0), { request: "x", cause });
    expect(JSON.parse(line)).toEqual({
      time: "1970-01-01T00:00:00.000Z",
      level: "error",
      request: "x",
      cause: "Error: Failed query: insert into orders values (?)\n    at run (a.ts:1)\n    at b",
    });
  });
});

describe("the running service", () => {
  let service: RunningService;
  let log = "";
  const TOKEN = "a-token-for-the-counts-of-tests";
  beforeAll(async () => {
    service = await runService({ SOFTSET_METRICS_TOKEN: TOKEN });
  });
  afterAll(() => service.stop());

  it("shows its counts to the token alone", async () => {
    await (await fetch(`${service.url}/v1/products/everyday`)).text();
    const get = (headers: Record<string, string>) => fetch(`${service.url}/metrics`, { headers });
    const shown = await get({ authorization: `Bearer ${TOKEN}` });
    expect(shown.headers.get("content-type")).toBe(
      "application/openmetrics-text; version=1.0.0; charset=utf-8",
    );
    const text = await shown.text();
    expect(text).toContain(
      'softset_requests_total{method="GET",route="/v1/products/:product",status="2xx"} 1',
    );
    expect(text).toContain('softset_orders{state="placed"} 0');
    expect(text).toContain('softset_messages{state="waiting"} 0');
    for (const headers of [{}, { authorization: "Bearer wrong" }, { authorization: TOKEN }]) {
      const hidden = await get(headers as Record<string, string>);
      expect(hidden.status).toBe(404);
      expect(await hidden.json()).toMatchObject({ code: "request.route.unknown" });
    }
  });

  it("writes a line for each request of a purchase, with nobody and no link in it", async () => {
    const database = freshFile();
    // The link of the first start is on the other stream of another process.
    const first = await runService({}, database);
    const makerLink = first.makerLink;
    await first.stop();
    const logged = await startLogged(database);
    const post = (path: string, body: unknown) =>
      fetch(`${logged.url}${path}`, {
        method: "POST",
        headers: { "content-type": "application/json" },
        body: JSON.stringify(body),
      });
    const quoted = (await (await post("/v1/quotes", aQuoteRequest())).json()) as { token: string };
    const placed = (await (
      await post("/v1/orders", { quote: quoted.token })
    ).json()) as OrderAnswer;
    const path = (url: string) => url.replace(/^https?:\/\/[^/]+/, "");
    const till = path(placed.payUrl ?? "");
    expect(till).not.toBe("");
    const fields = { name: "Jane Roe", email: "jane.roe@mail.example", street: "1 Moss Lane" };
    const paid = await fetch(`${logged.url}${till}/pay`, {
      method: "POST",
      headers: {
        "content-type": "application/x-www-form-urlencoded",
        "sec-fetch-site": "same-origin",
      },
      body: new URLSearchParams({
        ...fields,
        city: "Leith",
        postcode: "EH6 6XX",
        country: "GB",
        way: "0",
      }),
      redirect: "manual",
    });
    expect([paid.status, await paid.text()]).toEqual([303, ""]);
    await (await fetch(`${logged.url}${path(placed.orderUrl)}`)).text();
    await (await fetch(`${logged.url}${path(makerLink)}`)).text();
    await (await fetch(`${logged.url}/no/such/jane.roe@mail.example?name=Jane+Roe`)).text();
    log = await logged.stop();
    const lines = log
      .trim()
      .split("\n")
      .map((line) => JSON.parse(line) as Record<string, unknown>);
    const requests = lines.filter(({ route }) => route !== undefined);
    expect(requests.map(({ route }) => route)).toEqual(
      expect.arrayContaining(["/v1/quotes", "/v1/orders", "/*"]),
    );
    for (const line of requests) {
      expect(Object.keys(line)).toEqual([
        "time",
        "level",
        "request",
        "method",
        "route",
        "status",
        "ms",
      ]);
      expect(line["request"]).toMatch(/^[0-9a-f-]{36}$/);
    }
    const orderToken = placed.orderUrl.split("/").at(-1)!;
    const opening = [
      ...Object.values(fields),
      quoted.token,
      orderToken,
      till,
      makerLink.split("/").at(-1)!,
    ];
    for (const secret of opening) expect(log).not.toContain(secret);
    const keys = JSON.parse(readFileSync(join(dirname(database), "keys.json"), "utf8")) as {
      pages: string;
    };
    expect(log).not.toContain(keys.pages);
    rmSync(dirname(database), { recursive: true });
  });
});
