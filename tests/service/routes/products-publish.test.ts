/**
 * Publishing refused and done, versions that never change, the room and the stand-ins.
 */
import { eq } from "drizzle-orm";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { ingredients, productDrafts, productVersions, products } from "#data/schema.ts";
import { raiseCosts } from "#service/storage/ingredients.ts";
import type { TestShop } from "../../helpers/shop.ts";
import { HERE, type ProductShop, openProductShop, soft } from "./product-forms.ts";

let ground: ProductShop;
let shop: TestShop;
const send: ProductShop["send"] = (...told) => ground.send(...told);
const page: ProductShop["page"] = (path) => ground.page(path);
beforeEach(async () => {
  ground = await openProductShop();
  shop = ground.shop;
});
afterEach(() => shop.close());

describe("publishing", () => {
  const rows = (id: string) =>
    shop.db.q.select().from(productVersions).where(eq(productVersions.productId, id));

  it("writes the next version with its room, and leaves the one before as it was", async () => {
    const [before] = await rows("everyday");
    const base = soft({ butterGreatest: ["75", "25", "", ""] });
    await send("/everyday/bases/soft-shea", { revision: "0", ...base, then: "stay" });
    const quote = await shop.quote();
    const done = await send("/everyday/publish", { revision: "1", version: "2" });
    expect(done.status, await done.text()).toBe(303);
    const [first, second] = await rows("everyday");
    expect(first).toEqual(before);
    expect(second).toMatchObject({ version: 2, publishedAt: shop.shop.clock.seconds() });
    expect(JSON.parse(second!.room!).sentences[0]).toMatch(/^Soft shea: .* can be ordered\.$/);
    const asItWas = await page("/everyday/versions/1");
    expect(asItWas).toMatch(/Cocoa butter: at most: 30.% → 25.%/);
    expect(asItWas).toContain("<dt>Label and carton</dt><dd>£");
    expect(asItWas).toMatch(/<dt>Tax<\/dt><dd>20.%, in the price/);
    const order = await shop.post("/v1/orders", { quote: quote.token });
    expect(order.status).toBe(201);
    expect(quote.quote.product.version).toBe(1);
    shop.pass(1);
    expect((await shop.quote()).quote.product.version).toBe(2);
  });

  it("is told to the second of two who publish", async () => {
    await send("/everyday/words", { revision: "0", name: "N", words: "" });
    const ends = await Promise.all(
      [1, 2].map(() => send("/everyday/publish", { revision: "1", version: "2" })),
    );
    expect(ends.map(({ status }) => status).sort()).toEqual([303, 409]);
    expect(await rows("everyday")).toHaveLength(2);
    expect((await send("/everyday/publish", { revision: "1", version: "2" })).status).toBe(409);
  });

  it("names what stands in the way", async () => {
    await send("/new", { name: "Empty", start: "nothing" });
    const answer = await send("/empty/publish", { revision: "1", version: "1" });
    expect(answer.status).toBe(422);
    const text = await answer.text();
    expect(text).toContain("Write a first base");
    expect(text).toContain("Add a jar");
    expect(await rows("empty")).toEqual([]);
  });

  it("is refused while an ingredient was put away, until it is back", async () => {
    const setAway = (archivedAt: number | null) =>
      shop.db.atomic([
        shop.db.q.update(ingredients).set({ archivedAt }).where(eq(ingredients.id, "squalane")),
        raiseCosts(shop.db.q, "quillfen"),
      ]);
    await send("/everyday/words", { revision: "0", name: "N", words: "" });
    await setAway(1);
    const refused = await send("/everyday/publish", { revision: "1", version: "2" });
    expect(refused.status).toBe(422);
    expect(await refused.text()).toContain("Squalane was put away from your shelf");
    await setAway(null);
    expect((await send("/everyday/publish", { revision: "1", version: "2" })).status).toBe(303);
  });

  it("is refused when a base has no orderable blend, with the least change that would give one", async () => {
    await send("/everyday/rules", {
      ...{ revision: "0", useCelsius: "21", air: "35", softest: "hard", hardest: "hard" },
      ...{ softens: "", parcelMargin: "", poreMost: "", poreTrace: "", poreConfidence: "" },
    });
    const answer = await send("/everyday/publish", { revision: "1", version: "2" });
    expect(answer.status).toBe(422);
    const text = await answer.text();
    expect(text).toMatch(/No blend of Soft shea can be ordered\./);
    expect(text).toMatch(
      /The least change found: Cocoa butter at most 30.% → [\d.]+.%\. Or: firmness hard → firm to hard\./,
    );
    expect(await rows("everyday")).toHaveLength(1);
  });

  it("takes a product off sale, puts an earlier version back on, and away and back", async () => {
    await send("/everyday/words", { revision: "0", name: "N", words: "" });
    await send("/everyday/publish", { revision: "1", version: "2" });
    expect((await send("/everyday/versions/1/sell", { from: "1" })).status).toBe(409);
    expect((await send("/everyday/versions/1/sell", { from: "2" })).status).toBe(303);
    const [row] = await shop.db.q.select().from(products).where(eq(products.id, "everyday"));
    expect(row!.publishedVersion).toBe(1);
    expect((await send("/everyday/versions/9/sell", { from: "1" })).status).toBe(404);
    expect((await send("/everyday/withdraw", { from: "1" })).status).toBe(303);
    shop.pass(1);
    expect((await shop.request("/v1/products/everyday")).status).toBe(404);
    expect((await send("/everyday/put-away")).headers.get("location")).toContain("away=everyday");
    expect(await page("?away=everyday")).toContain("Put it back");
    expect(await page("?show=put-away")).toContain(">N<");
    expect((await send("/everyday/versions/1/sell", { from: "" })).status).toBe(409);
    expect((await send("/everyday/put-back")).status).toBe(303);
    expect(await shop.db.q.select().from(productDrafts)).toHaveLength(1);
  });
});

describe("the greatest share of an ingredient", () => {
  const setMost = (id: string, doseMostShare: number) =>
    shop.db.atomic([
      shop.db.q.update(ingredients).set({ doseMostShare }).where(eq(ingredients.id, id)),
      raiseCosts(shop.db.q, "quillfen"),
    ]);

  it("binds a butter's bound on the sheet of its base, at the bound itself", async () => {
    await setMost("cocoa-butter", 2999);
    const beyond = await send("/everyday/bases/soft-shea", { revision: "0", ...soft() });
    expect(beyond.status).toBe(422);
    const text = await beyond.text();
    expect(text).toMatch(
      /Cocoa butter may go up to 30.%; 29\.99.% is the most you set on your shelf/,
    );
    expect(text).toContain('href="#butter-1-greatest"');
    await setMost("cocoa-butter", 3000);
    const at = await send("/everyday/bases/soft-shea", { revision: "0", ...soft(), then: "stay" });
    expect(at.status).toBe(303);
  });

  it("stands in the way of publishing for every oil that a place lets in", async () => {
    await setMost("squalane", 1200);
    const answer = await send("/everyday/publish", { revision: "0", version: "2" });
    expect(await page("/everyday")).toMatch(/Soft shea: Squalane may go up to 30.%; 12.%/);
    expect(answer.status).not.toBe(303);
  });

  it("is the library's habit where the maker set none", async () => {
    const butterGreatest = ["75", "61", "", ""];
    const refused = await send("/everyday/bases/soft-shea", {
      ...{ revision: "0", ...soft({ butterGreatest }) },
    });
    expect(await refused.text()).toMatch(
      /Cocoa butter may go up to 61.%; 60.% is the most that is/,
    );
  });
});

describe("a product whose summer is shut", () => {
  const margin = async (parcelMargin: string) => {
    const { document } = await ground.draft("everyday");
    const { useCelsius, airFraction } = document.product;
    const done = await send("/everyday/rules", {
      ...{ revision: "0", useCelsius: String(useCelsius), air: String(100 * airFraction) },
      ...{ softest: "soft", hardest: "firm", softens: "26", parcelMargin, poreMost: "4" },
      ...{ poreReading: "value", poreTrace: "", poreConfidence: "", unrated: "cannot-judge" },
      ...{ strictness: "whole-band", then: "stay" },
    });
    expect(done.status, await done.text()).toBe(303);
  };
  const tickOf = (html: string) => /name="ticked" value="([^"]*)"/.exec(html)?.[1];

  it("is published only by who ticks that they know, and tells it with the version", async () => {
    await margin("3");
    const shown = await page("/everyday/publish");
    expect(shown).toMatch(
      /In May to September no blend of Soft shea stands a parcel to “Down south”/,
    );
    const said = { revision: "1", version: "2" };
    const untold = await send("/everyday/publish", said);
    expect(untold.status).toBe(422);
    expect(await untold.text()).toContain("Tick that you know");
    const other = await send("/everyday/publish", { ...said, ticked: "soft-shea 7 Down south" });
    expect(other.status).toBe(422);
    const done = await send("/everyday/publish", { ...said, ticked: tickOf(shown)! });
    expect(done.status, await done.text()).toBe(303);
    expect(await page("/everyday/versions/2")).toContain(
      "no blend of Soft shea stands a parcel to",
    );
    expect(await page("/everyday/rules")).toContain("no blend of Soft shea stands a parcel to");
  });

  it("asks for no tick where the year is open", async () => {
    await send("/everyday/words", { revision: "0", name: "N", words: "" });
    expect(tickOf(await page("/everyday/publish"))).toBeUndefined();
  });
});

describe("the room and the stand-ins of a product", () => {
  it("measures, tells its progress and draws a picture with words", async () => {
    expect(await page("/everyday/room")).toContain("Measure the room");
    const progress = await shop.request(`${HERE}/everyday/room/progress`, {
      headers: { cookie: ground.cookie },
    });
    const lines = (await progress.text()).trim().split("\n");
    expect(lines.length).toBeGreaterThan(3);
    expect(JSON.parse(lines.at(-1)!)).toEqual({ done: true });
    const text = await page("/everyday/room?measure=1&base=soft-shea&across=glide&up=cocoa-butter");
    expect(text).toMatch(/<bdi>Soft shea<\/bdi>: \d+/);
    for (const part of ["The ends of the room", "Cheapest", "What the rules refuse", "<svg"]) {
      expect(text).toContain(part);
    }
    expect(text).toMatch(/aria-label="Gliding oil from left to right, Cocoa butter from bottom/);
    expect(text).not.toMatch(/ style=/);
  });

  it("weighs a trial of one of its ends, as it was shown", async () => {
    const text = await page("/everyday/room?measure=1");
    const ends = [...text.matchAll(/<option value="([^"]*)">(cheapest|dearest|softest|firmest)</g)];
    expect(ends.length).toBeGreaterThanOrEqual(8); // four of each of two bases
    const firmest = ends.find(([, , name]) => name === "firmest")![1]!;
    const decoded = firmest.replaceAll("&quot;", '"').replaceAll("&#x3D;", "=");
    const choice = JSON.parse(decoded) as { butters: { ingredient: string; share: number }[] };
    const done = await send("/everyday/room/trial", { choice: decoded, massG: "150" });
    expect(done.status).toBe(303);
    const where = done.headers.get("location")!;
    const batch = await shop.request(where, { headers: { cookie: ground.cookie } });
    const sheet = await batch.text();
    expect(sheet).toContain("Trial of Everyday butter");
    expect(sheet).toContain("150.00");
    const { share } = choice.butters.find(({ ingredient }) => ingredient === "shea-butter")!;
    expect(sheet).toContain(`${(share / 100).toFixed(2)}\u00a0%`);
    const outside = { ...choice, butters: choice.butters.map((each) => ({ ...each, share: 1 })) };
    for (const form of [
      { choice: decoded, massG: "201" },
      { choice: decoded, massG: "" },
      { choice: "{}", massG: "100" },
      { choice: "junk", massG: "100" },
      { choice: JSON.stringify(outside), massG: "100" },
    ]) {
      expect([form, (await send("/everyday/room/trial", form)).status]).toEqual([form, 422]);
    }
  });

  it("ranks what could stand in for an oil", async () => {
    const text = await page("/everyday/stand-in?oil=jojoba-oil");
    expect(text).toContain("instead of Jojoba oil");
    expect(text).toContain("Squalane");
    expect(await page("/everyday/stand-in?oil=nothing")).not.toContain("instead of");
  });
});
