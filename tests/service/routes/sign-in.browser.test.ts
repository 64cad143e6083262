/**
 * The door and the settings in real Chromium, with its own virtual authenticator for passkeys.
 */
import { readFileSync } from "node:fs";
import type { AddressInfo } from "node:net";
import { join } from "node:path";
import { serve } from "@hono/node-server";
import type { Browser, BrowserContext, CDPSession, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { issueSignInLink } from "#service/actions/sign-in.ts";
import { createApp } from "#service/app.ts";
import { openShop } from "#service/ports.ts";
import { axeFindings } from "../../helpers/axe.ts";
import { hasChromium, launchChromium } from "../../helpers/browser.ts";
import { type TestShop, openTestShop } from "../../helpers/shop.ts";

const ASSETS = new URL("../../../.build/assets/", import.meta.url);
const pictures = process.env["SOFTSET_PICTURES"];
const VIEWS = [
  [390, "light"],
  [390, "dark"],
  [1280, "light"],
] as const;

describe.skipIf(!hasChromium)("the door in a browser", () => {
  let shop: TestShop;
  let url = "";
  let server: ReturnType<typeof serve>;
  let browser: Browser;
  let context: BrowserContext;
  let page: Page;
  let cdp: CDPSession;
  let authenticatorId = "";
  let code = "";
  const complaints: string[] = [];

  beforeAll(async () => {
    shop = await openTestShop();
    // The port is drawn by the system, so the app is made once it is known.
    let answer: (request: Request) => Response | Promise<Response> = () => new Response();
    server = serve({ fetch: (request) => answer(request), port: 0 });
    await new Promise((resolve) => server.once("listening", resolve));
    url = `http://localhost:${(server.address() as AddressInfo).port}`;
    const asset = async (name: string) => new Uint8Array(readFileSync(new URL(name, ASSETS)));
    const app = createApp(openShop({ ...shop.shop, url, asset }));
    answer = (request) => app.fetch(request);
    browser = await launchChromium();
    context = await browser.newContext({ viewport: { width: 390, height: 844 } });
    page = await context.newPage();
    page.on("pageerror", (error) => complaints.push(String(error)));
    page.on("console", (message) => {
      if (message.type() === "error") complaints.push(message.text());
    });
    cdp = await context.newCDPSession(page);
    await cdp.send("WebAuthn.enable");
    const options = { protocol: "ctap2", transport: "internal", automaticPresenceSimulation: true };
    ({ authenticatorId } = await cdp.send("WebAuthn.addVirtualAuthenticator", {
      options: {
        ...(options as { protocol: "ctap2"; transport: "internal" }),
        ...{ hasResidentKey: true, hasUserVerification: true, isUserVerified: true },
      },
    }));
  });
  afterAll(async () => {
    await browser?.close();
    server?.close();
    shop?.close();
  });

  const link = () => issueSignInLink({ ...shop.shop, url }, "quillfen");

  /** Pictures at each width and in the dark, when asked for. */
  async function picture(name: string): Promise<void> {
    if (!pictures) return;
    for (const [width, colorScheme] of VIEWS) {
      await page.setViewportSize({ width, height: 844 });
      await page.emulateMedia({ colorScheme });
      await page.screenshot({
        path: join(pictures, `${name}-${width}-${colorScheme}.png`),
        fullPage: true,
      });
    }
    await page.setViewportSize({ width: 390, height: 844 });
  }

  /** What axe has to say of the page, light and dark, and by how much it is too wide for a phone. */
  async function look(name: string): Promise<unknown[]> {
    await picture(name);
    const found: unknown[] = [];
    for (const colorScheme of ["dark", "light"] as const) {
      await page.emulateMedia({ colorScheme });
      const coloursOnly = colorScheme === "dark";
      found.push(...(await axeFindings(page, { coloursOnly })).map((each) => [colorScheme, each]));
    }
    const overhang = await page.evaluate(
      () => document.documentElement.scrollWidth - document.documentElement.clientWidth,
    );
    return overhang > 0 ? [...found, `${overhang} px too wide`] : found;
  }

  it("lets the first owner in by the link, adds a passkey, and shows the recovery code once", async () => {
    await page.goto(await link());
    expect(await look("door-link")).toEqual([]);
    await page.getByLabel("Your name").fill("Maya");
    await page.getByRole("button", { name: "Open the bench" }).click();
    await page.waitForURL(`${url}/maker/you`);
    expect(await look("you-first")).toEqual([]);
    await page.getByLabel("Name of the new passkey").fill("Bench tablet");
    await page.getByRole("button", { name: "Add a passkey" }).click();
    await page.getByRole("heading", { name: "Recovery code" }).waitFor();
    code = (await page.locator(".code").textContent())!.trim();
    expect(code).toMatch(/^(\w{4}\s+){6}\w{4}$/);
    expect(await look("recovery-code")).toEqual([]);
    await page.emulateMedia({ media: "print" });
    expect(await page.locator(".spine, .practice, .screen-only").first().isVisible()).toBe(false);
    expect(await page.locator(".code").isVisible()).toBe(true);
    if (pictures) await page.screenshot({ path: join(pictures, "recovery-code-print.png") });
    await page.emulateMedia({ media: "screen" });
    await page.goto(`${url}/maker/you`);
    await page.getByText("Bench tablet").waitFor();
    expect(await page.content()).not.toContain(code.slice(0, 4));
    expect(await look("you")).toEqual([]);
  });

  it("signs in by the passkey alone, with the keyboard, and goes on to where it was", async () => {
    await page.getByRole("button", { name: "Sign out", exact: true }).click();
    await page.waitForURL(`${url}/`);
    await page.goto(`${url}/maker/shop/people?x=1`);
    expect(new URL(page.url()).pathname).toBe("/maker/enter");
    expect(await look("door")).toEqual([]);
    await page.keyboard.press("Tab");
    await page.keyboard.press("Enter");
    await page.waitForURL(`${url}/maker/shop/people?x=1`);
    expect(await page.locator(".who").textContent()).toContain("Maya");
    const { credentials } = await cdp.send("WebAuthn.getCredentials", { authenticatorId });
    expect(credentials).toHaveLength(1);
    expect(credentials[0]!.signCount).toBe(2);
  });

  it("says what to do when the device does not go on, and when the passkey is a copy", async () => {
    await page.getByRole("button", { name: "Sign out", exact: true }).click();
    await page.goto(`${url}/maker/enter`);
    const { credentials } = await cdp.send("WebAuthn.getCredentials", { authenticatorId });
    const [credential] = credentials;
    const { credentialId } = credential!;
    await cdp.send("WebAuthn.removeCredential", { authenticatorId, credentialId });
    await page.getByRole("button", { name: "Sign in", exact: true }).click();
    await page.getByText("The device did not go on").waitFor();
    await cdp.send("WebAuthn.addCredential", {
      authenticatorId,
      credential: { ...credential!, signCount: 0 },
    });
    await page.getByRole("button", { name: "Sign in", exact: true }).click();
    await page.getByText("as a copy of it would").waitFor();
    expect(await look("door-refused")).toEqual([]);
    expect(complaints.filter((each) => !each.includes("403"))).toEqual([]);
  });

  it("lets a recovery code in without JavaScript, and asks for a new one", async () => {
    const plain = await browser.newContext({ javaScriptEnabled: false });
    const sheet = await plain.newPage();
    await sheet.goto(`${url}/maker/enter`);
    expect(await sheet.getByRole("button", { name: "Sign in", exact: true }).isVisible()).toBe(
      false,
    );
    await sheet.getByText("Passkeys need JavaScript").waitFor();
    await sheet.getByLabel("The code on your paper").fill(code.toLowerCase());
    await sheet.getByRole("button", { name: "Sign in with the code" }).click();
    await sheet.getByText("that code is void now").waitFor();
    await sheet.getByRole("button", { name: "Show my recovery code" }).click();
    const next = (await sheet.locator(".code").textContent())!.trim();
    expect(next).not.toBe(code);
    await plain.close();
  });

  it("shows people that everybody can use", async () => {
    await page.goto(await link());
    await page.getByRole("button", { name: "Open the bench" }).click();
    await page.goto(`${url}/maker/shop/people`);
    await page.getByLabel("Their name").fill("نور 🌿");
    await page.getByRole("button", { name: "Make a link" }).click();
    await page.getByText("A link for").waitFor();
    expect(await look("people")).toEqual([]);
  });

  it("shows settings and zones that everybody can use", async () => {
    await page.goto(`${url}/maker/shop`);
    expect(await look("shop")).toEqual([]);
    await page.getByLabel("Step of the scale").fill("fine");
    await page.getByRole("button", { name: "Save", exact: true }).click();
    await page.getByText("Not saved yet").waitFor();
    expect(await look("shop-faults")).toEqual([]);
    await page.goto(`${url}/maker/shop/zones/new`);
    await page.getByLabel("Name of the zone").fill("Up north");
    for (let month = 1; month <= 12; month++) {
      await page.locator(`#month-${month}`).fill(String(10 + month));
    }
    expect(await look("zone")).toEqual([]);
    await page.getByRole("button", { name: "Save the zone" }).click();
    await page.getByText("Warmest in December").waitFor();
    expect(await look("shop-zones")).toEqual([]);
  });
});
