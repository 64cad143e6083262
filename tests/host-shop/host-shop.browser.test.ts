/**
 * The host shop in a real browser: the element on its page, its own cart, its own payment, one order at the maker's.
 */
import { type ServerType, serve } from "@hono/node-server";
import type { AddressInfo } from "node:net";
import type { Browser } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { hasChromium, launchChromium } from "../helpers/browser.ts";
import { type RunningService, runService } from "../helpers/running-shop.ts";
import { openHostShop } from "./host-shop.ts";

let service: RunningService;
let server: ServerType;
let browser: Browser;
let host: ReturnType<typeof openHostShop>;
let address: string;

describe.runIf(hasChromium)("a host shop in the browser", () => {
  beforeAll(async () => {
    [service, browser] = await Promise.all([runService(), launchChromium()]);
    host = openHostShop({
      softset: service.url,
      key: await makeKey(),
      eventSecret: "whsec_c29mdHNldA==",
      product: "everyday",
      fetch: globalThis.fetch,
    });
    await new Promise<void>((ready) => {
      server = serve({ fetch: host.app.fetch, port: 0, hostname: "127.0.0.1" }, () => ready());
    });
    address = `http://127.0.0.1:${(server.address() as AddressInfo).port}`;
  });
  afterAll(async () => {
    await browser?.close();
    server?.close();
    await service?.stop();
  });

  /** As the maker does it: signed in by the link, on the page of host shops. */
  async function makeKey(): Promise<string> {
    const press = (path: string, fields: Record<string, string>, cookie = "") =>
      fetch(new URL(path, service.url), {
        method: "POST",
        redirect: "manual",
        headers: { "sec-fetch-site": "same-origin", cookie },
        body: new URLSearchParams(fields),
      });
    const entered = await press(service.makerLink, {});
    const cookie = entered.headers.get("set-cookie")!.split(";")[0]!;
    const fields = { id: crypto.randomUUID(), name: "Corner Larder" };
    const made = await (await press("/maker/shop/keys", fields, cookie)).text();
    return /softset_[\w-]{43}/.exec(made)![0];
  }

  it("takes the quote into its own cart, and the paid order stands at the maker's", async () => {
    const page = await browser.newPage({ viewport: { width: 390, height: 844 } });
    const faults: string[] = [];
    page.on("pageerror", (error) => faults.push(String(error)));
    await page.goto(address);
    await page
      .locator("softset-composer")
      .getByRole("button", { name: /order|pay/i })
      .last()
      .click();
    await page.waitForURL(/\/cart\/C-1$/);
    expect(await page.getByRole("main").innerText()).toMatch(/×.*GBP/);
    await page.getByRole("button", { name: "Pay" }).click();
    await page.getByText("Ordered:").waitFor();
    const cart = host.carts.get("C-1")!;
    expect(await page.getByRole("main").innerText()).toContain(cart.reference);
    const { orders } = await host.client.orders();
    expect(orders).toMatchObject([{ reference: cart.reference, state: "paid" }]);
    expect(orders[0]!.totalMinor).toBe(cart.takenMinor);
    expect(faults).toEqual([]);
    await page.close();
  });
});
