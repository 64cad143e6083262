/**
 * `softset/client` as somebody who installed the package has it: by its name, in plain Node, in workerd, and typed.
 */
import { execFile } from "node:child_process";
import { mkdirSync, mkdtempSync, readFileSync, symlinkSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { promisify } from "node:util";
import { Miniflare } from "miniflare";
import ts from "typescript";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { QuoteAnswer } from "#core/wire.ts";
import { declareClient } from "#service/client/declare.mjs";
import { newEventSecret, signedHeaders } from "#service/messages/event-signature.ts";
import { COMPATIBILITY_DATE } from "../../edge/local-d1.ts";
import { type TestShop, openTestShop } from "../../helpers/shop.ts";

const ROOT = join(import.meta.dirname, "../../..");
const BUILT = readFileSync(join(ROOT, ".build/client.js"), "utf8");

let shop: TestShop;
let quoted: QuoteAnswer;
let event: { body: string; headers: Record<string, string>; secret: string };
beforeAll(async () => {
  shop = await openTestShop();
  quoted = await shop.quote();
  const secret = newEventSecret();
  const body = '{"type":"order.paid","timestamp":"2026-01-01T00:00:00Z","data":{}}';
  const headers = await signedHeaders("msg_1", Math.floor(Date.now() / 1000), body, [secret]);
  event = { body, headers, secret };
});
afterAll(() => shop.close());

/** Checks a good and an altered token, and an event; says what came out. */
const TRYING = `
async function tried(client, { keys, token, event }) {
  const fetch = async () => new Response(keys, { headers: { "content-type": "application/jwk-set+json" } });
  const { verifyQuote } = client.softsetClient({ url: "http://shop.test", fetch });
  const { id } = await verifyQuote(token);
  const altered = token.slice(0, 40) + (token[40] === "A" ? "B" : "A") + token.slice(41);
  const { why } = await verifyQuote(altered).catch((error) => error);
  const { type } = await client.verifyEvent(event.body, new Headers(event.headers), event.secret);
  return { id, why, type };
}`;
const given = () => ({
  keys: JSON.stringify(shop.shop.seals.publicKeys()),
  token: quoted.token,
  event,
});
const wanted = () => ({ id: quoted.quote.id, why: "altered", type: "order.paid" });

describe("the client of the package", () => {
  it("is small, and brings no package along", () => {
    expect(BUILT).not.toMatch(/^import |\brequire\(|from "/m);
    expect(BUILT.length).toBeLessThan(12_000);
  });

  it("checks tokens and events in plain Node, by the name of the package", async () => {
    const script = `${TRYING}
      const answer = await tried(await import("softset/client"), ${JSON.stringify(given())});
      console.log(JSON.stringify(answer));`;
    const run = promisify(execFile);
    const { stdout } = await run(process.execPath, ["--input-type=module", "-e", script], {
      cwd: ROOT,
    });
    expect(JSON.parse(stdout)).toEqual(wanted());
  });

  it("checks tokens and events in workerd", async () => {
    const runtime = new Miniflare({
      compatibilityDate: COMPATIBILITY_DATE,
      modules: [
        {
          type: "ESModule",
          path: "main.js",
          contents: `import * as client from "./client.js"; ${TRYING}
            export default { fetch: async (request) =>
              Response.json(await tried(client, await request.json())) };`,
        },
        { type: "ESModule", path: "client.js", contents: BUILT },
      ],
    });
    try {
      const init = { method: "POST", body: JSON.stringify(given()) };
      const answer = await runtime.dispatchFetch("http://host.test/", init);
      expect(await answer.json()).toEqual(wanted());
    } finally {
      await runtime.dispose();
    }
  });

  it("is typed for whoever installs it, down to the fields of a quote", () => {
    const place = mkdtempSync(join(tmpdir(), "softset-types-"));
    const installed = join(place, "node_modules/softset");
    mkdirSync(installed, { recursive: true });
    declareClient(join(installed, ".build/types"));
    symlinkSync(join(ROOT, "package.json"), join(installed, "package.json"));
    const consumer = join(place, "shop.mts");
    writeFileSync(
      consumer,
      `import { softsetClient, verifyEvent, type QuoteSnapshot } from "softset/client";
       const client = softsetClient({ url: "https://shop.example", key: "k" });
       export const total = async (token: string): Promise<number> => (await client.verifyQuote(token)).totalMinor;
       export const jars = (quote: QuoteSnapshot): readonly { share: number }[] => quote.parts;
       export const state = async (body: string, headers: Headers): Promise<string> =>
         (await verifyEvent(body, headers, "s")).data.state;
       // @ts-expect-error: a price is never sent
       export const wrong = client.quote({ product: "p", jar: "j", quantity: 1, priceMinor: 1 });`,
    );
    const program = ts.createProgram([consumer], {
      ...{
        strict: true,
        noEmit: true,
        skipDefaultLibCheck: true,
        types: [],
        preserveSymlinks: true,
      },
      ...{ target: ts.ScriptTarget.ES2022, lib: ["lib.es2023.d.ts", "lib.dom.d.ts"] },
      ...{ module: ts.ModuleKind.NodeNext, moduleResolution: ts.ModuleResolutionKind.NodeNext },
    });
    const complaints = ts
      .getPreEmitDiagnostics(program)
      .map(
        ({ messageText, file }) =>
          `${file?.fileName}: ${ts.flattenDiagnosticMessageText(messageText, " ")}`,
      );
    expect(complaints).toEqual([]);
  });
});
