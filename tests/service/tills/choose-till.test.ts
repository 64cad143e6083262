/**
 * Which till runs: the practice till must be out of reach as soon as any key is set.
 */
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { chooseTill, TillMisconfigured, type TillSettings } from "#service/tills/choose-till.ts";
import type { PracticeParts } from "#service/tills/practice.ts";
import { signEvent } from "../../helpers/sign-event.ts";

const unused = () => Promise.reject(new Error("the practice till must not be used"));
const PRACTICE: PracticeParts = {
  sessions: { insert: unused, find: unused, setState: unused, addRefund: unused },
  baseUrl: "http://127.0.0.1:8787",
  now: () => new Date(),
};
const KEYS = { secretKey: "sk_test_1", webhookSecrets: ["whsec_1"] };

describe("choosing the till", () => {
  it.each<TillSettings>([
    {},
    { secretKey: "", webhookSecrets: [] },
    { secretKey: " \n", webhookSecrets: [" "] },
    { secretKey: undefined, webhookSecrets: undefined, host: "127.0.0.1" },
  ])("runs the practice till when no key is set: %o", (settings) => {
    expect(chooseTill(settings, PRACTICE).kind).toBe("practice");
  });

  it.each([
    ["sk_test_1", false],
    ["rk_test_1", false],
    ["sk_live_1", true],
    ["rk_live_1", true],
  ])("runs the real till with %s, live: %s", (secretKey, live) => {
    expect(chooseTill({ ...KEYS, secretKey }, PRACTICE)).toMatchObject({ kind: "stripe", live });
  });

  it.each<[string, TillSettings]>([
    ["a key without a webhook secret", { secretKey: "sk_live_1" }],
    ["a webhook secret without a key", { webhookSecrets: ["whsec_1"] }],
    ["a publishable key", { ...KEYS, secretKey: "pk_live_1" }],
    ["a placeholder", { ...KEYS, secretKey: "changeme" }],
    ["a key with a space in it", { ...KEYS, secretKey: "sk_live_1 2" }],
    ["a webhook secret of another kind", { ...KEYS, webhookSecrets: ["whsec_1", "sk_live_1"] }],
    ["a webhook secret with a space in it", { ...KEYS, webhookSecrets: ["whsec_1 2"] }],
    ["a key in clear over the network", { ...KEYS, protocol: "http", host: "proxy.example" }],
    ["a key in clear to the default address", { ...KEYS, protocol: "http" }],
  ])("refuses to start with %s", (_what, settings) => {
    const choose = () => chooseTill(settings, PRACTICE);
    expect(choose).toThrow(TillMisconfigured);
    expect(choose).not.toThrow(/live_1|whsec_1|changeme/);
  });

  const NO_KEY = "the Stripe secret key is missing, or is not one that starts with sk_ or rk_";
  const NO_SECRET = "no Stripe webhook secret is set: payments would never be noticed";
  const STRANGE = "a Stripe webhook secret does not start with whsec_, or holds a space";
  const CLEAR = "the Stripe key may travel over plain http to this machine only";

  it.each<[string, TillSettings]>([
    [NO_KEY, { webhookSecrets: ["whsec_1"] }],
    [NO_KEY, { ...KEYS, secretKey: "xsk_test_1" }],
    [NO_KEY, { ...KEYS, secretKey: "sk_test_1 " + "x" }],
    [NO_SECRET, { secretKey: "sk_test_1" }],
    [NO_SECRET, { secretKey: "sk_test_1", webhookSecrets: [" "] }],
    [STRANGE, { ...KEYS, webhookSecrets: ["whsec_1", "xwhsec_1"] }],
    [STRANGE, { ...KEYS, webhookSecrets: ["whsec_"] }],
    [CLEAR, { ...KEYS, protocol: "http", host: "localhost.example" }],
  ])("says what is to be mended: %s", (words, settings) => {
    expect(() => chooseTill(settings, PRACTICE)).toThrow(words);
  });

  it.each(["localhost", "127.0.0.1", "[::1]"])("lets a key go in clear to %s", (host) => {
    const settings = { ...KEYS, protocol: "http" as const, host };
    expect(chooseTill(settings, PRACTICE).kind).toBe("stripe");
  });

  it("lets a key go anywhere over https", () => {
    const settings = { ...KEYS, protocol: "https" as const, host: "proxy.example" };
    expect(chooseTill(settings, PRACTICE).kind).toBe("stripe");
  });

  it("mends a line break that was copied along with the secrets", async () => {
    const settings = { secretKey: "sk_test_1\n", webhookSecrets: [" whsec_1\n"] };
    const { payload, header } = await signEvent({ type: "ping" }, "whsec_1");
    const event = await chooseTill(settings, PRACTICE).readEvent(payload, header);
    expect(event.type).toBe("ping");
  });

  it("is the only place in the service that makes a practice till", () => {
    const root = join(import.meta.dirname, "..", "..", "..", "service");
    const makers = readdirSync(root, { recursive: true, encoding: "utf8" })
      .filter((file) => file.endsWith(".ts"))
      .filter((file) => readFileSync(join(root, file), "utf8").includes("createPracticeTill("));
    expect(makers.sort()).toEqual(["tills/choose-till.ts", "tills/practice.ts"]);
  });
});
