/**
 * The maker's products over the whole app: the list, a new one, and sheets with their guards.
 */
import { eq } from "drizzle-orm";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { ingredients } from "#data/schema.ts";
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

const draft: ProductShop["draft"] = (id) => ground.draft(id);
const revision = async (id: string) => String((await draft(id)).revision);

describe("the list of products", () => {
  it("shows what is for sale, finds by name and pages by fifty", async () => {
    const first = await page("");
    expect(first).toContain("Everyday butter");
    expect(first).toMatch(/version 1/);
    expect(await page("?q=feather")).not.toContain("Everyday butter");
    expect(await page("?q=%25")).toContain("Nothing here is called");
    for (let at = 0; at < 51; at++) {
      expect((await send("/new", { name: `Batch ${at} 🧈`, start: "nothing" })).status).toBe(303);
    }
    const many = await page("?q=batch");
    expect(many.match(/<tr><th scope="row">/g)).toHaveLength(50);
    const more = /class="button" href="(\/maker\/products\?[^"]*after[^"]*)"/.exec(many)![1]!;
    const rest = await page(
      more.replaceAll("&amp;", "&").replaceAll("&#x3D;", "=").slice(HERE.length),
    );
    expect(rest.match(/<tr><th scope="row">/g)).toHaveLength(1);
  });

  it("is the owner's alone", async () => {
    expect((await shop.request(HERE)).status).toBe(401);
    expect((await shop.request(`${HERE}/everyday/rules`)).status).toBe(401);
    expect((await send("/new", { name: "x" }, { "sec-fetch-site": "cross-site" })).status).toBe(
      403,
    );
  });
});

describe("a new product", () => {
  it.each([
    ["Emoji 🧈 butter", "emoji-butter"],
    ["زبدة الشيا", "butter"],
    ["Everyday butter", "everyday-butter"],
  ])("takes %s as a name", async (name, id) => {
    const answer = await send("/new", { name, start: "nothing" });
    expect(answer.headers.get("location")).toBe(`${HERE}/${id}/words`);
    expect(await page(`/${id}`)).toContain(name);
  });

  it("asks again for a name that is missing, and keeps the rest", async () => {
    const answer = await send("/new", { name: " ", start: "example" });
    expect(answer.status).toBe(422);
    expect(await answer.text()).toMatch(/Give the product a name.*value="example" checked/s);
  });

  it("begins twice under one name and keeps both", async () => {
    await send("/new", { name: "Twin", start: "nothing" });
    const second = await send("/new", { name: "Twin", start: "nothing" });
    expect(second.headers.get("location")).toMatch(/\/twin-[a-z0-9]{6}\/words$/);
  });

  it("begins as a copy, and as an example that says so", async () => {
    await send("/new", { name: "Copy", start: "copy", copy: "everyday" });
    expect((await draft("copy")).document.product.bases).toHaveLength(2);
    await send("/new", { name: "Sample", start: "example" });
    expect(await page("/sample")).toContain("This is our example");
    await send("/sample/words", { revision: "1", name: "Mine", words: "", then: "stay" });
    expect(await page("/sample")).not.toContain("This is our example");
    expect((await send("/new", { name: "x", start: "copy", copy: "none" })).status).toBe(404);
  });
});

describe("a sheet", () => {
  it("opens on what is for sale, and the first save begins a draft", async () => {
    expect(await revision("everyday")).toBe("0");
    const saved = await send("/everyday/words", { revision: "0", name: "Daily", words: "w" });
    expect(saved.status).toBe(303);
    expect(await page("")).toMatch(/Daily.*differs from version 1/s);
    expect(await page("/everyday")).toContain("Name: “Everyday butter” → “Daily”");
    expect(await (await shop.request("/v1/products/everyday")).text()).toContain("Everyday butter");
  });

  it("tells the second of two people, shows what differs and overwrites nothing", async () => {
    const one = await send("/everyday/words", { revision: "0", name: "One", words: "1" });
    expect(one.status).toBe(303);
    const two = await send("/everyday/words", { revision: "0", name: "Two", words: "2" });
    expect(two.status).toBe(409);
    const told = await two.text();
    expect(told).toContain("Somebody saved meanwhile");
    expect(told).toContain("Name: “One” → “Two”");
    expect(told).toContain('name="revision" value="1"');
    expect(told).toContain('value="Two"');
    expect((await draft("everyday")).document.product.name).toBe("One");
    expect((await send("/everyday/words", { revision: "1", name: "Two", words: "2" })).status).toBe(
      303,
    );
  });

  it("keeps what another sheet saved", async () => {
    await send("/everyday/jars", {
      revision: "0",
      jar: ["jar-60", "", ""],
      name: ["Small", "Tub", ""],
      fill: ["60", "250", ""],
      quantity: "6",
    });
    await send("/everyday/words", { revision: "1", name: "N", words: "" });
    const { product, pricePolicy } = (await draft("everyday")).document;
    expect(product.jars.map(({ id, fillG }) => [id, fillG])).toEqual([
      ["jar-60", 60],
      ["tub", 250],
    ]);
    expect(Object.keys(pricePolicy.jarMinor)).toEqual(["jar-60"]);
    expect(await page("/everyday")).toContain("Say what the jar “Tub” costs you.");
  });

  it.each([
    ["bounds that cross", { butterLeast: ["80", "0", "", ""] }, "bounds of Shea butter cross"],
    ["a share outside", { butterShare: ["40", "30", "", ""] }, "outside its bounds"],
    ["no number", { butterShare: ["sixty", "10", "", ""] }, "cannot be “sixty”"],
    ["three decimals", { butterShare: ["60.001", "10", "", ""] }, "at most two decimals"],
    ["a negative share", { oilShare: ["-1", "14.5"] }, "cannot be “-1”"],
    ["a share on no line", { butterShare: ["60", "10", "3", ""] }, "without an ingredient"],
    ["an unknown fat", { butter: ["moon-butter", "cocoa-butter", "", ""] }, "Nothing is known of"],
    ["an oil of another place", { oil: ["sunflower-oil", "sunflower-oil"] }, "is not allowed as"],
    ["a butter twice", { butter: ["shea-butter", "shea-butter", "", ""] }, "stands here twice"],
    ["a name of another base", { name: "mild  MANGO" }, "Another base is called"],
    ["no name", { name: "" }, "Give the base a name"],
  ])("refuses a base with %s and keeps what was typed", async (_, change, sentence) => {
    const answer = await send("/everyday/bases/soft-shea", { revision: "0", ...soft(change) });
    expect(answer.status).toBe(422);
    const text = (await answer.text()).replaceAll("&#x27;", "'");
    expect(text).toContain(sentence);
    expect(text).toContain("Not saved yet");
    for (const typed of Object.values(change).flat()) {
      if (typed !== "") expect(text).toContain(`value="${typed.replaceAll('"', "&quot;")}"`);
    }
    expect(await revision("everyday")).toBe("0");
  });

  it("saves a base that is not whole, and says how much is missing", async () => {
    const fields = soft({ oilShare: ["15", "10"] });
    const saved = await send("/everyday/bases/soft-shea", { revision: "0", ...fields });
    expect(saved.status).toBe(303);
    expect(await page("/everyday")).toMatch(/adds up to 95.5.%: 4.5.% missing/);
    expect(await page("/everyday/bases/soft-shea")).toMatch(/95.5.%: 4.5.% missing/);
    expect(await page("/everyday/bases")).toContain("no blend yet");
  });

  it("looks at a base while it is typed, and saves nothing", async () => {
    const look = await send("/everyday/bases/soft-shea/look", soft());
    const text = await look.text();
    expect(text).toContain("Orderable as it stands");
    expect(text).toContain("Softens above");
    expect(text).not.toContain("<html");
    const unheardOf = soft({ name: "New", butterGreatest: ["90", "30", "", ""] });
    const isNew = await send("/everyday/bases/new/look", unheardOf);
    expect(await isNew.text()).toContain("Orderable as it stands");
    const broken = await send(
      "/everyday/bases/new/look",
      soft({ butterShare: ["x", "10", "", ""] }),
    );
    expect(await broken.text()).toContain("60.5 %".replace("60.5", "40").replace(" ", "\u00a0"));
    expect(await revision("everyday")).toBe("0");
  });

  it("sets a base aside and puts it back", async () => {
    expect((await send("/everyday/bases/mild-mango/aside", { revision: "0" })).status).toBe(303);
    expect((await draft("everyday")).document.product.bases).toHaveLength(1);
    const late = await send("/everyday/bases/soft-shea/aside", { revision: "0" });
    expect(late.status).toBe(409);
    const back = { revision: "1", base: "mild-mango" };
    expect((await send("/everyday/bases/put-back", back)).status).toBe(303);
    expect((await draft("everyday")).document.product.bases.map(({ id }) => id)).toEqual([
      "soft-shea",
      "mild-mango",
    ]);
  });

  it("gives no additive more than its most", async () => {
    const rows = (share: string) => ({
      revision: "0",
      ingredient: ["tapioca-starch", "tocopherol", ""],
      share: [share, "0.5", ""],
    });
    const answer = await send("/everyday/additives", rows("12"));
    expect(answer.status).toBe(422);
    expect((await answer.text()).replaceAll("\u00a0", " ")).toContain(
      "Tapioca starch is at 12 %; 5 % is the most that is usual.",
    );
    expect((await send("/everyday/additives", rows("4"))).status).toBe(303);
    expect(await page("/everyday")).toMatch(/Soft shea adds up to 104.%: 4.% too much/);
  });

  it("follows the maker's own most for an additive", async () => {
    await shop.db.atomic([
      shop.db.q
        .update(ingredients)
        .set({ doseMostShare: 1500 })
        .where(eq(ingredients.id, "tapioca-starch")),
    ]);
    const rows = { revision: "0", ingredient: ["tapioca-starch"], share: ["12"] };
    expect((await send("/everyday/additives", rows)).status).toBe(303);
  });

  it("refuses rules that make no sense, with a sentence for each", async () => {
    const answer = await send("/everyday/rules", {
      ...{ revision: "0", useCelsius: "90", air: "35", softest: "hard", hardest: "soft" },
      ...{ softens: "warm", parcelMargin: "", poreMost: "7", poreTrace: "", poreConfidence: "Z" },
    });
    expect(answer.status).toBe(422);
    const text = await answer.text();
    for (const sentence of [
      "The room temperature cannot be “90”",
      "The firmness window is empty: hard is harder than soft.",
      "The least softens above cannot be “warm”",
      "The highest pore rating cannot be “7”",
    ]) {
      expect(text).toContain(sentence);
    }
  });

  it("reads rules back as they were written, commas and all", async () => {
    await send("/everyday/rules", {
      ...{ revision: "0", useCelsius: "20,5", air: "32.5", softest: "soft", hardest: "" },
      ...{ softens: "27", parcelMargin: "2", poreMost: "3", poreReading: "high", poreTrace: "0,5" },
      ...{ poreConfidence: "C", unrated: "tell", strictness: "central" },
    });
    expect((await draft("everyday")).document.product).toMatchObject({
      useCelsius: 20.5,
      airFraction: 0.325,
      parcelMarginCelsius: 2,
      rules: {
        firmness: ["soft", "firm", "hard"],
        softensAboveLeastCelsius: 27,
        poreRatingMost: 3,
        poreReading: "high",
        poreTraceBelowShare: 50,
        poreConfidenceLeast: "C",
        unrated: "tell",
        strictness: "central",
      },
    });
    expect(await page("/everyday/rules")).toContain('value="32.5"');
  });

  it("keeps a place that a base stands on", async () => {
    const fields = { revision: "0", place: ["glide", "care", "new"], name: ["", "Caring oil", ""] };
    const answer = await send("/everyday/oils", { ...fields, "allow-care": "sunflower-oil" });
    expect(answer.status).toBe(422);
    expect(await answer.text()).toContain("Soft shea has an oil in “Gliding oil”.");
  });
});

describe("a trial from the sheet of a base", () => {
  const HREF = "/everyday/bases/soft-shea/trial";

  it("becomes a work order of the grams that were asked for", async () => {
    const answer = await send(HREF, { massG: "80" });
    expect(answer.status).toBe(303);
    const where = answer.headers.get("location")!;
    expect(where).toMatch(/^\/maker\/batches\/.+/);
    const sheet = await shop.request(`${where}/sheets`, { headers: { cookie: ground.cookie } });
    expect(await sheet.text()).toContain("80.00");
  });

  it.each(["", "49", "201", "a bowl", "99,5"])("is refused for “%s” grams", async (massG) => {
    const answer = await send(HREF, { massG });
    expect(answer.status).toBeGreaterThanOrEqual(400);
    expect(answer.status).toBeLessThan(500);
  });

  it("is refused for a base that is not there", async () => {
    expect((await send("/everyday/bases/nothing/trial", { massG: "80" })).status).toBe(404);
  });
});
