/**
 * The Stripe till inside workerd, the runtime of the edge: the right entry of the SDK, and the
 * whole way through.
 */
import { join } from "node:path";
import { build } from "esbuild";
import { Miniflare } from "miniflare";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { signEvent } from "../../helpers/sign-event.ts";
import { startStripeServer, type StripeServer } from "../../helpers/stripe-server.ts";
import { makeCharge } from "./till.contract.ts";

const ROOT = join(import.meta.dirname, "..", "..", "..");
/** Calls one verb of the till: the request's body is `[settings, verb, ...arguments]`. */
const WORKER = `
import { chooseTill } from "#service/tills/choose-till.ts";
export default {
  async fetch(request) {
    const [settings, verb, ...given] = await request.json();
    const till = chooseTill(settings, undefined);
    if (verb === "open") given[0].expiresAt = new Date(given[0].expiresAt);
    try {
      return Response.json(await till[verb](...given));
    } catch (error) {
      return Response.json({ name: error.name, code: error.code }, { status: 400 });
    }
  },
};`;

async function bundle() {
  const { outputFiles, metafile } = await build({
    stdin: { contents: WORKER, resolveDir: ROOT, loader: "ts" },
    bundle: true,
    minify: true,
    format: "esm",
    platform: "browser",
    conditions: ["workerd", "worker", "browser"],
    write: false,
    metafile: true,
  });
  return { text: outputFiles[0]?.text ?? "", inputs: Object.keys(metafile.inputs) };
}

describe("the tills in workerd", () => {
  let bundled: Awaited<ReturnType<typeof bundle>>;
  let server: StripeServer;
  let worker: Miniflare;
  beforeAll(async () => {
    [bundled, server] = await Promise.all([bundle(), startStripeServer()]);
    worker = new Miniflare({
      modules: true,
      script: bundled.text,
      compatibilityDate: "2026-04-01",
    });
  }, 30_000);
  afterAll(() => Promise.all([worker.dispose(), server.close()]));

  async function call(...given: unknown[]) {
    const settings = { ...server.settings, webhookSecrets: ["whsec_1"] };
    const body = JSON.stringify([settings, ...given]);
    const response = await worker.dispatchFetch("http://worker/", { method: "POST", body });
    return (await response.json()) as Record<string, unknown>;
  }

  it("bundle the SDK's entry for workers, and nothing of Node", () => {
    expect(bundled.inputs).toContain("node_modules/stripe/esm/stripe.esm.worker.js");
    expect(bundled.inputs.filter((file) => /node\.js$|\/Node[A-Z]/.test(file))).toEqual([]);
    expect(bundled.text).not.toMatch(/from\s*"node:|require\("(http|crypto)/);
  });

  it("open a session and read it again once it is paid", async () => {
    const opened = await call("open", makeCharge());
    expect(opened).toMatchObject({ state: "open", amountTotalMinor: 2900 });
    server.markPaid(String(opened["id"]));
    expect(await call("read", opened["id"])).toMatchObject({ state: "paid", id: opened["id"] });
  });

  it("find one session again after an answer was lost", async () => {
    const before = server.sessions.size;
    server.failNext("drop-after");
    const charge = makeCharge({ idempotencyKey: "in-workerd" });
    expect(await call("open", charge)).toMatchObject({ state: "open" });
    expect(server.sessions.size).toBe(before + 1);
  });

  it("let in what is signed and keep out what is not", async () => {
    const { payload, header } = await signEvent({ type: "ping" }, "whsec_1");
    expect(await call("readEvent", payload, header)).toMatchObject({ id: "evt_1" });
    expect(await call("readEvent", `${payload} `, header)).toEqual({
      name: "TillRefusal",
      code: "payment.signature.invalid",
    });
  });
});
