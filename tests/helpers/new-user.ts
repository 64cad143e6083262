/**
 * Somebody new at a page: goes by what stands there, and what they do is counted.
 */
import type { Locator, Page } from "playwright-core";

export interface Effort {
  pages: number;
  clicks: number;
  fields: number;
}

export class NewUser {
  readonly effort: Effort = { pages: 0, clicks: 0, fields: 0 };
  readonly page: Page;

  constructor(page: Page) {
    this.page = page;
    page.on("framenavigated", (frame) => {
      if (frame === page.mainFrame()) this.effort.pages++;
    });
  }

  async press(name: string | RegExp, role: "button" | "link" = "button"): Promise<void> {
    await this.tap(this.page.getByRole(role, { name, exact: typeof name === "string" }));
  }

  async tap(at: Locator): Promise<void> {
    this.effort.clicks++;
    await at.click();
    await this.page.waitForLoadState();
  }

  async write(label: string | RegExp, text: string): Promise<void> {
    this.effort.fields++;
    await this.page.getByRole("textbox", { name: label }).first().fill(text);
  }

  async heading(name: string | RegExp): Promise<void> {
    await this.page.getByRole("heading", { name }).first().waitFor();
  }

  /** Words of the next of the first steps on the bench. */
  async nextStep(): Promise<string> {
    return await this.page.locator('.first-steps [aria-current="step"] a').innerText();
  }

  /** Go to the bench and on to the next of the first steps. */
  async takeNextStep(words: RegExp): Promise<void> {
    await this.press("Bench", "link");
    if (!words.test(await this.nextStep())) {
      throw new Error(`the next step is “${await this.nextStep()}”, not ${words}`);
    }
    await this.tap(this.page.locator('.first-steps [aria-current="step"] a'));
  }
}
