/**
 * A whole shop for a test: the real app over a real SQLite database, with a clock the test moves.
 */
import { mkdtempSync, readFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import type { QuoteAnswer, QuoteRequest } from "#core/wire.ts";
import { issueSignInLink } from "#service/actions/sign-in.ts";
import { createApp } from "#service/app.ts";
import type { Senders } from "#service/messages/senders.ts";
import { randomNumbers } from "#service/numbers.ts";
import { type Ports, openShop } from "#service/ports.ts";
import { makeKeys, makeSeals } from "#service/seals.ts";
import { openNodeDatabase } from "#service/storage/node-database.ts";
import { practiceSessionsIn } from "#service/storage/practice-sessions.ts";
import { seedDemo } from "#service/storage/seed.ts";
import { type TillSettings, chooseTill } from "#service/tills/choose-till.ts";

export const MIGRATIONS = fileURLToPath(new URL("../../data/migrations", import.meta.url));
const PRINT_CSS = fileURLToPath(new URL("../../service/documents/print.css", import.meta.url));
const BUILT_ASSETS = new URL("../../.build/assets/", import.meta.url);
const URL_OF_SHOP = "http://shop.test";

export type TestShop = Awaited<ReturnType<typeof openTestShop>>;

/** A database file of its own in a temporary folder. */
export function freshFile(): string {
  return join(mkdtempSync(join(tmpdir(), "softset-")), "shop.db");
}

export async function openTestShop(
  till: TillSettings = {},
  file = ":memory:",
  senders: Senders = { mail: undefined, events: undefined },
) {
  const db = openNodeDatabase(file, MIGRATIONS);
  let seconds = Math.floor(Date.now() / 1000);
  await seedDemo(db, seconds);
  const logged: Readonly<Record<string, unknown>>[] = [];
  const now = () => new Date(seconds * 1000);
  const chosen = chooseTill(till, { sessions: practiceSessionsIn(db), baseUrl: URL_OF_SHOP, now });
  const ports: Ports = {
    db,
    till: chosen,
    practice: chosen.kind === "practice" ? chosen : undefined,
    senders,
    clock: { seconds: () => seconds },
    numbers: randomNumbers,
    seals: await makeSeals(await makeKeys()),
    url: URL_OF_SHOP,
    asset: async (name) => {
      if (/\.(ttf|woff2)$/.test(name))
        return new Uint8Array(readFileSync(new URL(name, BUILT_ASSETS)));
      return name === "print.css" ? new Uint8Array(readFileSync(PRINT_CSS)) : undefined;
    },
    log: (line) => logged.push(line),
  };
  const shop = openShop(ports);
  const app = createApp(shop);
  const request = (path: string, init: RequestInit = {}) =>
    Promise.resolve(app.request(`${URL_OF_SHOP}${path}`, init));
  const post = (path: string, body: unknown, headers: Record<string, string> = {}) =>
    request(path, {
      method: "POST",
      headers: { "content-type": "application/json", ...headers },
      body: typeof body === "string" ? body : JSON.stringify(body),
    });
  return {
    db,
    shop,
    app,
    logged,
    request,
    post,
    /** Move the clock on [s] */
    pass: (by: number) => {
      seconds += by;
    },
    quote: async (change: Partial<QuoteRequest> = {}): Promise<QuoteAnswer> => {
      const answer = await post("/v1/quotes", aQuoteRequest(change));
      if (answer.status !== 201) throw new Error(await answer.text());
      return (await answer.json()) as QuoteAnswer;
    },
    /** Sign the maker in; answers the cookie header to send along. */
    signIn: async (): Promise<string> => {
      const link = await issueSignInLink(shop, "quillfen");
      const path = link.slice(URL_OF_SHOP.length);
      const entered = await request(path, {
        method: "POST",
        headers: { "sec-fetch-site": "same-origin" },
      });
      return entered.headers.get("set-cookie")!.split(";")[0]!;
    },
    close: () => db.close(),
  };
}

/** Soft shea as the demo shop starts it, two jars of 120 g. */
export function aQuoteRequest(change: Partial<QuoteRequest> = {}): QuoteRequest {
  return {
    product: "everyday",
    choice: {
      base: "soft-shea",
      butters: [
        { ingredient: "shea-butter", share: 6000 },
        { ingredient: "cocoa-butter", share: 1000 },
      ],
      oils: [
        { place: "glide", ingredient: "jojoba-oil", share: 1500 },
        { place: "care", ingredient: "sunflower-oil", share: 1450 },
      ],
    },
    jar: "jar-120",
    quantity: 2,
    ...change,
  };
}
