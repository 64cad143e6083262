/**
 * `npm run edge`, from nothing to a shop that is open.
 */
import { once } from "node:events";
import { existsSync, mkdtempSync, readFileSync, rmSync, statSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { openEdge } from "#service/run-edge.mjs";

const folder = mkdtempSync(join(tmpdir(), "softset-edge-"));
const secrets = join(folder, "secrets");
afterAll(() => rmSync(folder, { recursive: true, force: true }));

async function close({ worker, url }: Awaited<ReturnType<typeof openEdge>>) {
  const ended = once(worker, "exit");
  worker.kill();
  await ended;
  await expect(fetch(url)).rejects.toThrow(); // the runtime is gone with its parent
}

const OWN = { SOFTSET_SHOP: "Thistle & Wick", SOFTSET_CURRENCY: "EUR", SOFTSET_LOCALE: "de-AT" };

describe("npm run edge", () => {
  it("opens a shop of one's own, with secrets only their owner can read and a link for the maker", async () => {
    const ground = { port: 0, secrets, show: false, state: join(folder, "own") };
    const edge = await openEdge({ ...ground, own: OWN });
    expect(edge.note).toContain("EUR, Austria");
    const page = await fetch(edge.url, { headers: { accept: "text/html" } });
    expect([page.status, await page.text()]).toEqual([
      200,
      expect.stringContaining("Thistle &amp; Wick"),
    ]);
    const sheet = await fetch(`${edge.url}/assets/shop.css`);
    expect([sheet.status, sheet.headers.get("content-type")]).toEqual([
      200,
      "text/css; charset=utf-8",
    ]);
    await sheet.arrayBuffer();
    const entered = await fetch(edge.link, {
      method: "POST",
      headers: { "sec-fetch-site": "same-origin" },
      redirect: "manual",
    });
    expect(entered.status).toBe(303);
    await close(edge);
    expect(statSync(secrets).mode & 0o777).toBe(0o600);
    expect(readFileSync(secrets, "utf8")).toMatch(/^SOFTSET_KEYS='\{.*\}'\n$/);
  }, 180_000);

  it.each([
    [{ SOFTSET_SHOP: "Thistle" }, /SOFTSET_CURRENCY: say which currency/],
    [{ ...OWN, SOFTSET_COUNTRY: "ZZ" }, /SOFTSET_COUNTRY: “ZZ” is no country/],
    [{ SOFTSET_CURRENCY: "EUR" }, /SOFTSET_CURRENCY is of use only together with SOFTSET_SHOP/],
  ])("says what is wrong with a shop before anything is written: %j", async (own, sentence) => {
    const state = join(folder, "never");
    await expect(openEdge({ port: 0, state, secrets, show: false, own })).rejects.toThrow(sentence);
    expect(existsSync(state)).toBe(false);
  });
});
