/**
 * The door and the settings in real Chromium, with its own virtual authenticator for passkeys.
 */
import { join } from "node:path";
import type { CDPSession, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { type BrowsedShop, PICTURES, openBrowsedShop } from "../../helpers/browsed-shop.ts";
import { hasChromium } from "../../helpers/browser.ts";

describe.skipIf(!hasChromium)("the door in a browser", () => {
  let browsed: BrowsedShop;
  let url = "";
  let page: Page;
  let cdp: CDPSession;
  let authenticatorId = "";
  let code = "";

  beforeAll(async () => {
    browsed = await openBrowsedShop({ refusals: [403, 422] });
    ({ url, page } = browsed);
    cdp = await page.context().newCDPSession(page);
    await cdp.send("WebAuthn.enable");
    const options = { protocol: "ctap2", transport: "internal", automaticPresenceSimulation: true };
    ({ authenticatorId } = await cdp.send("WebAuthn.addVirtualAuthenticator", {
      options: {
        ...(options as { protocol: "ctap2"; transport: "internal" }),
        ...{ hasResidentKey: true, hasUserVerification: true, isUserVerified: true },
      },
    }));
  });
  afterAll(() => browsed?.close());

  it("lets the first owner in by the link, adds a passkey, and shows the recovery code once", async () => {
    await page.goto(await browsed.link());
    await browsed.look("door-link");
    await page.getByLabel("Your name").fill("Maya");
    await page.getByRole("button", { name: "Open the bench" }).click();
    await page.waitForURL(`${url}/maker/you`);
    await browsed.look("you-first");
    await page.getByLabel("Name of the new passkey").fill("Bench tablet");
    await page.getByRole("button", { name: "Add a passkey" }).click();
    await page.getByRole("heading", { name: "Recovery code" }).waitFor();
    code = (await page.locator(".code").textContent())!.trim();
    expect(code).toMatch(/^(\w{4}\s+){6}\w{4}$/);
    await browsed.look("recovery-code");
    await page.emulateMedia({ media: "print" });
    expect(await page.locator(".spine, .practice, .screen-only").first().isVisible()).toBe(false);
    expect(await page.locator(".code").isVisible()).toBe(true);
    if (PICTURES) await page.screenshot({ path: join(PICTURES, "recovery-code-print.png") });
    await page.emulateMedia({ media: "screen" });
    await page.goto(`${url}/maker/you`);
    await page.getByText("Bench tablet").waitFor();
    expect(await page.content()).not.toContain(code.slice(0, 4));
    await browsed.look("you");
  });

  it("signs in by the passkey alone, with the keyboard, and goes on to where it was", async () => {
    await page.getByRole("button", { name: "Sign out", exact: true }).click();
    await page.waitForURL(`${url}/`);
    await page.goto(`${url}/maker/shop/people?x=1`);
    expect(new URL(page.url()).pathname).toBe("/maker/enter");
    await browsed.look("door");
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
    await browsed.look("door-refused");
    expect(browsed.complaints).toEqual([]);
  });

  it("lets a recovery code in without JavaScript, and asks for a new one", async () => {
    const plain = await page.context().browser()!.newContext({ javaScriptEnabled: false });
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
    await page.goto(await browsed.link());
    await page.getByRole("button", { name: "Open the bench" }).click();
    await page.goto(`${url}/maker/shop/people`);
    await page.getByLabel("Their name").fill("نور 🌿");
    await page.getByRole("button", { name: "Make a link" }).click();
    await page.getByText("A link for").waitFor();
    await browsed.look("people");
  });

  it("shows settings and zones that everybody can use", async () => {
    await page.goto(`${url}/maker/shop`);
    await browsed.look("shop");
    await page.getByLabel("Step of the scale").fill("fine");
    await page.getByRole("button", { name: "Save", exact: true }).click();
    await page.getByText("Not saved yet").waitFor();
    await browsed.look("shop-faults");
    await page.goto(`${url}/maker/shop/zones/new`);
    await page.getByLabel("Name of the zone").fill("Up north");
    for (let month = 1; month <= 12; month++) {
      await page.locator(`#month-${month}`).fill(String(10 + month));
    }
    await browsed.look("zone");
    await page.getByRole("button", { name: "Save the zone" }).click();
    await page.getByText("Warmest in December").waitFor();
    await browsed.look("shop-zones");
    expect(browsed.complaints).toEqual([]);
  });
});
