/**
 * What a product says for its labels: written on its sheet, published with its version, and printed on its jars.
 */
import { and, eq, sql } from "drizzle-orm";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import type { LabelFacts } from "#core/compose/product.ts";
import { productVersions, shops } from "#data/schema.ts";
import type { LabelSettings } from "#service/documents/label-settings.ts";
import { fieldsOn } from "../../helpers/form-fields.ts";
import { payOrder, sendForm, setParticulars } from "../../helpers/shop-acts.ts";
import type { TestShop } from "../../helpers/shop.ts";
import { type Fields, HERE, type ProductShop, openProductShop } from "./product-forms.ts";

const SETTINGS: LabelSettings = {
  markets: [{ id: "eu", languages: ["de", "fr"] }],
  sizes: [{ id: "around", name: "Around", widthMm: 140, heightMm: 40, carries: "all" }],
  shelfLifeMonths: 9,
};
let ground: ProductShop;
let shop: TestShop;
beforeEach(async () => {
  ground = await openProductShop();
  shop = ground.shop;
  await setLabels(SETTINGS);
});
afterEach(() => shop.close());

/** Label settings as the shop's own page would save them, with a new revision. */
async function setLabels(label: LabelSettings): Promise<void> {
  const responsible = { name: "Quillfen Workshop", address: "3 Mill Lane" };
  await setParticulars(shop, { responsible, label });
  const revision = sql`${shops.revision} + 1`;
  await shop.db.atomic([shop.db.q.update(shops).set({ revision })]);
}

const SHEET = "/everyday/label";
const page = async (path: string) => decode(await ground.page(path));
const labelOf = async (id = "everyday") => (await ground.draft(id)).document.product.label;
const decode = (html: string) =>
  html.replaceAll("&#x27;", "'").replaceAll("&#x3D;", "=").replaceAll("&quot;", '"');

/** The sheet as it stands, with some fields typed anew. */
async function save(change: Fields = {}, path = SHEET) {
  const fields = Object.fromEntries(fieldsOn(await ground.page(path)));
  const answer = await ground.send(path, { ...fields, ...change });
  return { status: answer.status, page: decode(await answer.text()) };
}

const WRITTEN: Fields = {
  "purpose-de": "Fußbutter",
  "purpose-fr": "Beurre pour les pieds",
  "precautions-de": "Nicht auf rissige Fersen.",
  "precautions-fr": "Pas sur des talons crevassés.",
  shelfLife: "6",
  open: "1",
  monthsFrom: "kept-jars",
};

describe("the label sheet", () => {
  it("keeps what was written, in the languages the shop prints", async () => {
    const empty = await page(SHEET);
    expect(empty).toContain('Left empty: <span lang="de">Geschlagene Körperbutter</span>');
    expect(empty).toContain("Left empty, the shop’s counts: 9 months.");
    expect(empty).not.toContain("purpose-en");
    expect((await save(WRITTEN)).status).toBe(303);
    expect(await labelOf()).toEqual({
      purpose: { de: "Fußbutter", fr: "Beurre pour les pieds" },
      precautions: { de: "Nicht auf rissige Fersen.", fr: "Pas sur des talons crevassés." },
      ...{ shelfLifeMonths: 6, openMonths: 1, monthsFrom: "kept-jars" },
    });
    const overview = await page("/everyday");
    expect(overview).toContain("What it is for, in German: new, “Fußbutter”");
    expect(overview).toContain("A closed jar lasts: as the shop says → 6 months");
    expect(overview).toMatch(/An opened jar lasts: as the shop says → 1 month(?!s)/);
    expect(overview).toContain("Months known: new, found by keeping jars of it");
  });

  it("leaves a language alone that the shop prints no more, and nothing behind once emptied", async () => {
    await save(WRITTEN);
    await setLabels({ ...SETTINGS, markets: [{ id: "eu", languages: ["fr"] }] });
    await save({ "purpose-fr": "", "precautions-fr": "", shelfLife: "", open: "", monthsFrom: "" });
    expect(await labelOf()).toEqual({
      purpose: { de: "Fußbutter" },
      precautions: { de: "Nicht auf rissige Fersen." },
    });
    await setLabels(SETTINGS);
    await save({ "purpose-de": "", "precautions-de": " " });
    expect(await labelOf()).toBeUndefined();
  });

  it("says what is wrong, keeps what was typed and stores none of it", async () => {
    const wrong: [Fields, string][] = [
      [{ shelfLife: "long" }, "How long a closed jar lasts cannot be “long”"],
      [{ shelfLife: "61" }, "write a whole number from 1 to 60 months"],
      [{ open: "2,5" }, "How long an opened jar lasts cannot be “2,5”"],
      [{ shelfLife: "9", monthsFrom: "" }, "Say how you know the months, or empty them"],
      [{ open: "9", monthsFrom: "guess" }, "Say how you know the months, or empty them"],
      [{ "purpose-de": "ß".repeat(81) }, "What it is for in German may have 80 characters"],
      [{ "precautions-fr": "é".repeat(301) }, "The precautions in French may have 300 characters"],
    ];
    for (const [typed, sentence] of wrong) {
      const refused = await save({ monthsFrom: "kept-jars", ...typed });
      expect(refused.status).toBe(422);
      expect(refused.page).toContain(sentence);
      expect(refused.page).toContain(Object.values(typed)[0]);
    }
    expect(await labelOf()).toBeUndefined();
  });

  it("names what a label would lack, and none of it stands in the way of publishing", async () => {
    await save({ "purpose-de": "Fußbutter", shelfLife: "36", monthsFrom: "safety-assessment" });
    for (const where of [SHEET, "/everyday/publish"]) {
      const told = await page(where);
      expect(told).toContain("is written, and not in French.");
      expect(told).toContain("labels ask how long an opened jar lasts");
    }
    expect(await page("/everyday/publish")).toContain("Publish version 2</button>");
    await publish(2, (await labelOf())!);
    expect(await page("/everyday/versions/2")).toContain("<dd>from its safety assessment</dd>");
    const { shelfLifeMonths: _, ...untold } = SETTINGS;
    await setLabels(untold);
    expect(await page("/featherlight/label")).toContain("said neither here nor for the shop");
  });

  it("begins with the shop's months, and asks how they are known, also of a copy", async () => {
    await ground.send("/new", { name: "Fresh", start: "nothing" });
    expect(await labelOf("fresh")).toEqual({ shelfLifeMonths: 9 });
    expect(await page("/fresh/label")).toContain("nobody has said since how it is known");
    expect((await save({}, "/fresh/label")).status).toBe(422);
    await save(WRITTEN);
    await ground.send("/new", { name: "Copy", start: "copy", copy: "everyday" });
    const { monthsFrom: __, ...copied } = (await labelOf())!;
    expect(await labelOf("copy")).toEqual(copied);
  });

  it("is nothing that customers are sent", async () => {
    await publish(2, { purpose: { de: "Fußbutter" } });
    shop.pass(1);
    const { version, product } = (await (await shop.request("/v1/products/everyday")).json()) as {
      version: number;
      product: object;
    };
    expect(version).toBe(2);
    expect(product).not.toHaveProperty("label");
  });
});

/** A version as it would be published, without measuring its room. */
async function publish(version: number, label: LabelFacts): Promise<void> {
  const is = (of: number) =>
    and(eq(productVersions.productId, "everyday"), eq(productVersions.version, of));
  const [row] = await shop.db.q.select().from(productVersions).where(is(1));
  const product = JSON.stringify({ ...(JSON.parse(row!.product) as object), label });
  await shop.db.atomic([shop.db.q.insert(productVersions).values({ ...row!, version, product })]);
  await shop.shop.products.sell("quillfen", "everyday", version - 1, version);
  shop.pass(1);
}

describe("labels of a batch", () => {
  const make = async () => {
    const { id } = await payOrder(shop, { quantity: 2 });
    const made = await sendForm(shop, "/maker/batches", ground.cookie, [["order", id]]);
    return `${made.headers.get("location")!}/labels`;
  };
  const look = async (path: string) => {
    const headers = { cookie: ground.cookie, accept: "text/html" };
    return decode(await (await shop.request(path, { headers })).text());
  };
  const LACKS = "is written, and not in";

  it("speak as the version does that was ordered, and as the shop where it says nothing", async () => {
    const before = await look(await make());
    expect(before).toContain("Geschlagene Körperbutter / Beurre corporel fouetté");
    expect(before).toContain("Months it lasts: 9 closed, as said for the whole shop.");
    await publish(2, {
      purpose: { de: "Fußbutter", fr: "Beurre pour les pieds" },
      precautions: { de: "Nicht auf rissige Fersen.", fr: "Pas sur des talons crevassés." },
      ...{ shelfLifeMonths: 6, monthsFrom: "kept-jars" },
    });
    const after = await look(await make());
    expect(after).toContain("Fußbutter / Beurre pour les pieds");
    expect(after).toContain("Nicht auf rissige Fersen.");
    expect(after).toContain("6 closed, as said of this product, found by keeping jars of it.");
    expect(after).not.toContain("Something is missing on them");
  });

  it("take what was published since: a language that lacked, and fewer months, which voids a print", async () => {
    await publish(2, { purpose: { de: "Fußbutter" }, shelfLifeMonths: 8, monthsFrom: "kept-jars" });
    const labels = await make();
    expect(await look(labels)).toContain(`“What it is for” of Everyday butter ${LACKS} French`);
    const printing = [["count-0", "2"] as const, ["because", "They stay here"] as const];
    expect((await sendForm(shop, labels, ground.cookie, printing)).status).toBe(303);
    await publish(3, {
      purpose: { de: "Fußbutter", fr: "Beurre pour les pieds" },
      ...{ shelfLifeMonths: 2, monthsFrom: "safety-assessment" },
    });
    await publish(4, {
      purpose: { de: "Fußbutter", fr: "Beurre pour les pieds" },
      ...{ shelfLifeMonths: 12, monthsFrom: "safety-assessment" },
    });
    const now = await look(labels);
    expect(now).not.toContain(LACKS);
    expect(now).toContain("Months it lasts: 2 closed");
    expect(now).toContain("Void, do not use it.");
    expect(await look(await make())).toContain("12 closed");
  });

  it("of a trial go by the draft it was made of", async () => {
    await save(WRITTEN);
    const trial = await ground.send("/everyday/bases/soft-shea/trial", { massG: "100" });
    const labels = `${trial.headers.get("location")!}/labels`;
    expect(await look(labels)).toContain("Fußbutter / Beurre pour les pieds");
    expect(labels).not.toContain(HERE);
  });
});
