/**
 * A Worker that lacks something says what, to a person and to a program, and opens as soon as it is there.
 */
import { afterAll, beforeEach, afterEach, describe, expect, it, vi } from "vitest";
import type { Problem } from "#core/wire.ts";
import type { ShopEnv } from "#service/worker-shop.ts";
import { type EdgeWorker, createWorker } from "#service/worker.ts";
import { makeKeys } from "#service/seals.ts";
import { openD1Database } from "#service/storage/d1-database.ts";
import { seedDemo } from "#service/storage/seed.ts";
import { migrate, startD1 } from "./local-d1.ts";

let d1: Awaited<ReturnType<typeof startD1>>;
let env: Record<string, unknown> & ShopEnv;
let worker: EdgeWorker;
const logged = vi.spyOn(console, "error").mockImplementation(() => undefined);

beforeEach(async () => {
  d1 = await startD1();
  const sheet = () => new Response("body {}", { headers: { "content-type": "text/plain" } });
  env = {
    DB: d1.binding,
    ASSETS: {
      fetch: async (url: string) =>
        url.endsWith("/bench.css") ? sheet() : new Response("none", { status: 404 }),
    },
    SOFTSET_KEYS: await makeKeys(),
    SOFTSET_URL: "https://shop.example",
  };
  worker = createWorker(); // each test is an isolate of its own
  logged.mockClear();
});
afterEach(() => d1.close());
afterAll(() => logged.mockRestore());

const ask = (path: string, accept = "application/json") =>
  worker.fetch(new Request(`https://shop.example${path}`, { headers: { accept } }), env);

async function seeded() {
  await migrate(d1.raw);
  await seedDemo(openD1Database(d1.binding), 1_764_000_000);
}

async function complaint(): Promise<string> {
  const answer = await ask("/v1/products");
  expect(answer.status).toBe(503);
  expect(answer.headers.get("content-type")).toBe("application/problem+json");
  const problem = (await answer.json()) as Problem;
  expect(problem.code).toBe("service.not-ready");
  return problem.detail;
}

describe("a Worker", () => {
  it("opens with keys, an address, migrations and a shop", async () => {
    await seeded();
    expect((await ask("/v1/products")).status).toBe(200);
    expect((await ask("/", "text/html")).status).toBe(200);
  });

  it("lists everything it lacks at once", async () => {
    env = { DB: env.DB, ASSETS: env.ASSETS, STRIPE_SECRET_KEY: "nonsense" };
    const detail = await complaint();
    expect(detail).toContain("0000_first_light");
    expect(detail).toContain("wrangler d1 migrations apply");
    expect(detail).toContain("SOFTSET_KEYS");
    expect(detail).toContain("SOFTSET_URL");
    expect(detail).toContain("Stripe secret key");
    expect(detail).not.toContain("nonsense");
  });

  it("tells a person on a page, with the sheet the page needs and nothing else", async () => {
    env = { ...env, SOFTSET_KEYS: "" };
    const page = await ask("/", "text/html");
    expect(page.status).toBe(503);
    expect(await page.text()).toMatch(/not set up yet[\s\S]*SOFTSET_KEYS/);
    const sheet = await ask("/assets/bench.css");
    expect([sheet.status, await sheet.text()]).toEqual([200, "body {}"]);
    expect(sheet.headers.get("content-type")).toBe("text/css; charset=utf-8");
    expect((await ask("/assets/none.css")).status).toBe(404);
  });

  it("quotes nothing of keys it cannot read", async () => {
    await seeded();
    for (const keys of ["hush-hush", '{"signing":"hush-hush"}']) {
      env = { ...env, SOFTSET_KEYS: keys };
      expect(await complaint()).toMatch(/^The secret SOFTSET_KEYS is not what/);
      expect(JSON.stringify(logged.mock.calls)).not.toContain("hush");
    }
  });

  it("seeds no shop by itself, and opens once there is one", async () => {
    await migrate(d1.raw);
    expect(await complaint()).toContain("no shop");
    await seedDemo(openD1Database(d1.binding), 1_764_000_000);
    expect((await ask("/v1/products")).status).toBe(200);
  });

  it("with Stripe keys has no practice till", async () => {
    await seeded();
    env = { ...env, STRIPE_SECRET_KEY: "sk_test_1", STRIPE_WEBHOOK_SECRETS: "whsec_1" };
    expect((await ask("/till/any")).status).toBe(404);
    expect(await (await ask("/", "text/html")).text()).not.toContain("Practice");
  });

  it("says that something failed, and not what, when the database does not answer", async () => {
    const down = {
      prepare: () => {
        throw new Error("D1_ERROR: at secret.example");
      },
    };
    env = { ...env, DB: down };
    const answer = await ask("/v1/products");
    expect(answer.status).toBe(500);
    expect(await answer.text()).not.toContain("secret.example");
    expect(JSON.stringify(logged.mock.calls)).toContain("secret.example");
  });
});
