/**
 * Passkeys and the recovery code in workerd, over D1: added, used, refused; answered by an authenticator in software.
 */
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { Problem } from "#core/wire.ts";
import { SoftPasskey } from "../helpers/authenticator.ts";
import { startWorker } from "./worker.ts";

const URL_OF_SHOP = "https://shop.example";
const HERE = { origin: URL_OF_SHOP };
const OURS = { "sec-fetch-site": "same-origin" };

let worker: Awaited<ReturnType<typeof startWorker>>;
let cookie = "";

const press = (path: string, fields: Record<string, string> = {}, cookie = "") =>
  worker.request(path, {
    method: "POST",
    headers: { ...OURS, cookie, "content-type": "application/x-www-form-urlencoded" },
    body: new URLSearchParams(fields).toString(),
  });

const send = (path: string, body: unknown, cookie = "") =>
  worker.request(path, {
    method: "POST",
    headers: { ...OURS, cookie, "content-type": "application/json" },
    body: JSON.stringify(body),
  });

const look = async (path: string, cookie: string) =>
  await (await worker.request(path, { headers: { cookie, accept: "text/html" } })).text();

interface HasCookie {
  readonly headers: { get(name: string): string | null };
}
const cookieOf = (answer: HasCookie) => answer.headers.get("set-cookie")!.split(";")[0]!;

async function enterBy(passkey: SoftPasskey, counter: number) {
  const options = (await (await send("/maker/enter/options", {})).json()) as { challenge: string };
  const response = passkey.get(options, { ...HERE, rpId: "shop.example", counter });
  return { response, answer: await send("/maker/enter/passkey", { to: "/maker/you", response }) };
}

/** @param script the bundle, asked for when the tests begin */
export function describeDoor(script: () => string): void {
  describe("the door in workerd", () => {
    beforeAll(async () => {
      worker = await startWorker(script(), URL_OF_SHOP);
    }, 120_000);
    afterAll(() => worker?.close());

    it("lets a passkey be added and come in, once by each question, and refuses a copy", async () => {
      const entered = await press(worker.link, { name: "Maya" });
      expect(entered.headers.get("location")).toBe("/maker/you");
      expect(entered.headers.get("set-cookie")).toMatch(/^__Host-softset=.*Secure/);
      cookie = cookieOf(entered);
      const passkey = new SoftPasskey();
      const options = await (await send("/maker/you/passkeys/options", {}, cookie)).json();
      const made = passkey.create(options as never, { ...HERE, counter: 1 });
      const body = { name: "Tablet", response: made };
      expect((await send("/maker/you/passkeys", body, cookie)).status).toBe(201);

      const { answer, response } = await enterBy(passkey, 2);
      expect(await answer.json()).toEqual({ to: "/maker/you" });
      const page = await look("/maker/you", cookieOf(answer));
      for (const words of ["Maya", "Tablet", "last used"]) expect(page).toContain(words);

      const again = await send("/maker/enter/passkey", { to: "", response });
      expect(((await again.json()) as Problem).code).toBe("maker.passkey.refused");
      const copy = (await enterBy(passkey, 2)).answer;
      expect(((await copy.json()) as Problem).code).toBe("maker.passkey.copied");
      const stranger = (await enterBy(new SoftPasskey(), 3)).answer;
      expect(((await stranger.json()) as Problem).code).toBe("maker.passkey.refused");
      expect((await enterBy(passkey, 3)).answer.status).toBe(200);

      const slip = await (await press("/maker/you/recovery-code", {}, cookie)).text();
      const code = [...slip.matchAll(/<span>([0-9A-Z]{4})<\/span>/g)]
        .map(([, each]) => each)
        .join("");
      expect(code).toHaveLength(28);
      const recovered = await press("/maker/enter/code", { code });
      expect(recovered.status).toBe(303);
      // Whoever needs the code may have lost what they had: every other visit is over.
      expect((await worker.request("/maker/you", { headers: { cookie } })).status).toBe(401);
      cookie = cookieOf(recovered);
      expect((await press("/maker/enter/code", { code })).status).toBe(403);
    });

    it("offers the countries and time zones of the runtime, and saves the settings", async () => {
      const page = await look("/maker/shop", cookie);
      expect(page).toContain('<option value="GB" selected>United Kingdom</option>');
      expect(page).toContain('<option value="Europe/London" selected>Europe/London</option>');
      expect(page.match(/<option value="[A-Z]{2}"/g)!.length).toBeGreaterThan(240);
      const place = { country: "NZ", timeZone: "Pacific/Auckland", locale: "en-NZ" };
      const form = {
        revision: "1",
        name: "Quillfen",
        maker: "Quillfen",
        currency: "NZD",
        ...place,
      };
      const saved = await press("/maker/shop", { ...form, scaleG: "0,1" }, cookie);
      expect([saved.status, saved.headers.get("location")]).toEqual([303, "/maker/shop?saved"]);
      const odd = { ...form, revision: "2", scaleG: "0,1", timeZone: "Europe/Atlantis" };
      expect((await press("/maker/shop", odd, cookie)).status).toBe(422);
      expect((await press("/maker/shop", { ...form, scaleG: "1" }, cookie)).status).toBe(409);
    });
  });
}
