/**
 * Labels by their pages: what is missing stops them, the owner's reason is kept, prints are counted and become void
 * when the jar becomes another; and the settings they follow.
 */
import { eq } from "drizzle-orm";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { batches, lots } from "#data/schema.ts";
import { readRecord } from "#service/batches/record.ts";
import { readSheets } from "#service/batches/sheets.ts";
import type { LabelSettings } from "#service/documents/label-settings.ts";
import { fieldsOn } from "../../helpers/form-fields.ts";
import {
  type Fields,
  benchHand,
  payOrder,
  sendForm,
  setParticulars,
} from "../../helpers/shop-acts.ts";
import { type TestShop, openTestShop } from "../../helpers/shop.ts";

const SHOP = "quillfen";
let shop: TestShop;
let owner: string;
let number: string;
let labels: string;

beforeEach(async () => {
  shop = await openTestShop();
  owner = await shop.signIn();
  const { id } = await payOrder(shop, { quantity: 5 });
  const where = (await send("/maker/batches", owner, [["order", id]])).headers.get("location");
  number = where!.split("/").at(-1)!;
  labels = `/maker/batches/${number}/labels`;
});
afterEach(() => shop.close());

const SETTINGS: LabelSettings = {
  markets: [
    { id: "gb", languages: ["en"] },
    { id: "eu", languages: ["de", "fr"] },
  ],
  sizes: [{ id: "around", name: "Around", widthMm: 140, heightMm: 40, carries: "all" }],
  shelfLifeMonths: 6,
};
const RESPONSIBLE = { name: "Quillfen Workshop", address: "3 Mill Lane\nNether Wallow" };

const send = (path: string, cookie: string, fields?: Fields) =>
  sendForm(shop, path, cookie, fields);

async function look(path: string, cookie = owner) {
  const answer = await shop.request(path, { headers: { cookie, accept: "text/html" } });
  return { status: answer.status, page: decode(await answer.text()), headers: answer.headers };
}

const ready = (label: Partial<LabelSettings> = {}) =>
  setParticulars(shop, { responsible: RESPONSIBLE, label: { ...SETTINGS, ...label } });

async function print(more: [string, string][] = [], cookie = owner) {
  const answer = await send(labels, cookie, [["count-0", "5"], ...more]);
  const { status } = answer;
  return { status, to: answer.headers.get("location") ?? "", page: decode(await answer.text()) };
}

async function record() {
  const batch = (await shop.shop.batches.byNumber(SHOP, number))!;
  const { entries } = await readRecord(shop.shop, batch);
  return entries.filter(({ kind }) => kind.startsWith("label"));
}

const decode = (html: string) =>
  html.replaceAll("&#x27;", "'").replaceAll("&#x3D;", "=").replaceAll("&quot;", '"');

describe("labels with something missing", () => {
  it("are listed with what to do, and not printed by anybody without a reason", async () => {
    const { page } = await look(labels);
    expect(page).toContain("No responsible person for Great Britain.");
    expect(page).toContain("How long the jar lasts is not said");
    const refused = await print();
    expect(refused.status).toBe(422);
    expect(refused.page).toContain("Write why it is printed although something is missing");
    expect(refused.page).toContain('value="5"');
    expect(await record()).toEqual([]);
  });

  it("are printed for the owner's reason, which the record keeps with what was missing", async () => {
    const { status, to } = await print([["because", "Jars for my own shelf"]]);
    expect(status).toBe(303);
    const [override, printed] = await record();
    expect(override).toMatchObject({ kind: "label-override", by: "Owner" });
    expect(override!.body).toMatchObject({ because: "Jars for my own shelf" });
    expect(JSON.stringify(override!.body)).toContain("No responsible person");
    expect(printed).toMatchObject({ kind: "labels-printed", body: { labels: [{ count: 5 }] } });
    expect((await look(to)).status).toBe(200);
  });

  it("are not for the bench to print, whatever reason it gives", async () => {
    const hand = await benchHand(shop);
    const { status, page } = await print([["because", "In a hurry"]], hand);
    expect(status).toBe(422);
    expect(page).toContain("only the owner can print all the same");
    expect(await record()).toEqual([]);
    await ready();
    expect((await print([], hand)).status).toBe(303);
  });
});

describe("labels that nobody can print", () => {
  it("say that a lot was past its date, and nothing is stored", async () => {
    await ready();
    const past = { bestBefore: "2020-01-01" };
    await shop.db.atomic([
      shop.db.q.update(lots).set(past).where(eq(lots.ingredientId, "shea-butter")),
    ]);
    // The bench would not suggest such a lot, so it is one that was really used.
    const fields = await fieldsOn((await look(`/maker/batches/${number}/close`)).page);
    const [row] = await shop.db.q.select().from(lots).where(eq(lots.ingredientId, "shea-butter"));
    const used = fields.map(([name, value]): [string, string] =>
      name === "lot-0-0-0"
        ? [name, row!.id]
        : name === "why-0-0"
          ? [name, "Only one left"]
          : [name, value],
    );
    const closed = await send(`/maker/batches/${number}/close`, owner, used);
    expect(closed.status).toBe(303);
    const { page } = await look(labels);
    expect(page).toContain("was best before 2020-01-01");
    const { status } = await print([["because", "Please"]]);
    expect(status).toBe(422);
    expect(await record()).toEqual([]);
  });

  it("say how much too small they are, and what would hold the words", async () => {
    await ready({ sizes: [{ ...SETTINGS.sizes[0]!, widthMm: 50, heightMm: 25 }] });
    const { status, page } = await print([["because", "Please"]]);
    expect(status).toBe(422);
    expect(page).toMatch(/“Around” is too small\. .* need [\d.]+ mm of height; it has 25 mm\./);
    expect(page).toMatch(/A label of 50 × [\d.]+ mm or \d+ × 25 mm would hold them\./);
  });

  it.each(["0", "", "-1", "1.5", "many", "1001"])(
    "take no “%s” for a number of them",
    async (typed) => {
      await ready();
      const answer = await send(labels, owner, [["count-0", typed]]);
      expect(answer.status).toBe(422);
      expect(decode(await answer.text())).toContain("Nothing was printed.");
      expect(await record()).toEqual([]);
    },
  );

  it("are those of a batch that is set aside", async () => {
    await send(`/maker/batches/${number}/set-aside`, owner);
    expect((await look(labels)).page).toContain("has no jars to label");
    expect((await look("/maker/batches/999999-01/labels")).status).toBe(404);
  });
});

describe("labels that are printed", () => {
  beforeEach(() => ready());

  it("show each label as often as it was asked for, with its code and nothing of the customer", async () => {
    const { page } = await look((await print()).to);
    expect(page.match(/<use href="#label-0"/g)).toHaveLength(5);
    expect(page).toContain(`Batch ${number}`);
    expect(page).not.toContain("Wren");
    expect(page).not.toContain(`/maker/batches/${number}/labels/labels`);
    expect(page.replace(/<script type="module" src=[^>]*>/, "")).not.toMatch(/<script|\sstyle=/);
  });

  it("count the jars that have theirs, by market and size", async () => {
    await print();
    const fresh = await look(labels);
    expect(fresh.page).toContain("5 printed already");
    expect(fresh.page).toMatch(/name="count-0" value="0"/);
    expect((await look(`${labels}?market=eu`)).page).not.toContain("printed already");
  });

  it("speak the languages of the market, and ingredients only once", async () => {
    const { page } = await look(`${labels}?market=eu`);
    expect(page).toContain("Geschlagene Körperbutter / Beurre corporel fouetté");
    expect(page).toContain(
      "Herkunftsland: Vereinigtes Königreich / Fabriqué dans ce pays : Royaume-Uni",
    );
    expect(page).toContain("Mindestens haltbar bis Ende / À utiliser de préférence avant fin");
  });

  it("are void once the list of ingredients is another, and keep their number", async () => {
    const { to } = await print();
    const [batch] = await shop.db.q.select().from(batches);
    const sheets = JSON.parse(batch!.workOrder) as ReturnType<typeof readSheets>;
    const lines = sheets.runs[0]!.workOrder.weighList.flatMap((group) => group.lines);
    const [most, least] = [...lines].sort((one, other) => other.share - one.share);
    const swap = [most!, least!].map((line) => line.share).reverse();
    Object.assign(most!, { share: swap[0] });
    Object.assign(least!, { share: swap[1] });
    const workOrder = JSON.stringify(sheets);
    await shop.db.atomic([shop.db.q.update(batches).set({ workOrder })]);
    const { page } = await look(labels);
    expect(page).toContain("Void, do not use it.");
    expect(page).toContain("The blend has changed: the list is another now.");
    expect(page).not.toContain("printed already");
    const void_ = await look(to);
    expect(void_.status).toBe(409);
    expect(void_.page).toContain("keeps its number");
  });

  it("are void once the date must be another, and stand while nothing on them changes", async () => {
    const { to } = await print();
    shop.pass(3600);
    expect((await look(to)).status).toBe(200);
    const bestBefore = "2027-01-15";
    await shop.db.atomic([
      shop.db.q.update(lots).set({ bestBefore }).where(eq(lots.ingredientId, "cocoa-butter")),
    ]);
    const { page } = await look(labels);
    expect(page).toContain("must say “Best used before the end of 15.01.2027” now");
    expect(page).toContain("The date is that of lot");
  });

  it("come as a picture that carries its letters, for the label that is there", async () => {
    const { to } = await print();
    const { status, page, headers } = await look(`${to}/0.svg`);
    expect(status).toBe(200);
    expect(headers.get("content-disposition")).toContain(`label-${number}-0.svg`);
    expect(page).toMatch(
      /^<svg xmlns="http:\/\/www.w3.org\/2000\/svg" width="140mm" height="40mm"/,
    );
    // "wOF2", by which such a font begins, in base64.
    const faces = page.matchAll(/font-weight:(\d+);src:url\(data:font\/woff2;base64,d09GMg/g);
    expect([...faces].map(([, weight]) => weight)).toEqual(["400", "600"]);
    expect((await look(`${to}/7.svg`)).status).toBe(404);
    expect((await look(`${labels}/printed/77`)).status).toBe(404);
  });

  it("fit a page of their own size", async () => {
    const { page } = await look((await print([["paper", "label"]])).to);
    const css = /href="([^"]+page\.css[^"]+)"/.exec(page)![1]!.replaceAll("&amp;", "&");
    expect((await look(css)).page).toContain("@page{size:140mm 40mm;margin:0}");
    expect((await look(`${labels}/page.css?w=9e9&h=}`)).page).toBe("");
  });
});

describe("the label settings", () => {
  const PAGE = "/maker/shop/labels";
  const typed = async () => fieldsOn((await look(PAGE)).page);
  const set = (fields: [string, string][], name: string, value: string) =>
    fields.map((each): [string, string] => (each[0] === name ? [name, value] : each));

  it("begin with the market and language of the shop, and sizes to change", async () => {
    const fields = new Map(await typed());
    expect(fields.get("market-gb")).toBe("yes");
    expect(fields.get("language-gb")).toBe("en");
    expect(fields.has("market-us")).toBe(false);
    expect(fields.get("width-0")).toBe("140");
  });

  it("are kept, also when the shop's other settings are saved after", async () => {
    await send(PAGE, owner, set(set(await typed(), "shelfLife", "9"), "height-0", "38,5"));
    const others = await fieldsOn((await look("/maker/shop")).page);
    expect((await send("/maker/shop", owner, others)).status).toBe(303);
    const fields = new Map(await typed());
    expect(fields.get("shelfLife")).toBe("9");
    expect(fields.get("height-0")).toBe("38.5");
  });

  it("say what is wrong beside the field, and keep what was typed", async () => {
    const wrong: [string, string][] = [
      ["shelfLife", "long"],
      ["width-0", "19"],
      ["name-1", ""],
      ["person-gb", "Somebody"],
    ];
    const fields = wrong.reduce((sofar, [name, value]) => set(sofar, name, value), await typed());
    const answer = await send(PAGE, owner, fields);
    const page = decode(await answer.text());
    expect(answer.status).toBe(422);
    for (const sentence of [
      "How long a closed jar lasts must be a whole number from 1 to 60 months, such as 9.",
      "The width of label 1 must be a number with at most 1 decimal from 20 to 190 mm, such as 40.",
      "Give label 2 a name of 1 to 80 characters.",
      "Type the address that goes with the name.",
    ]) {
      expect(page).toContain(sentence);
    }
    expect(page).toContain('value="long"');
    const none = (await typed()).filter(([name]) => !name.startsWith("market-"));
    expect(await (await send(PAGE, owner, none)).text()).toContain("Tick at least one market.");
  });

  it("are not overwritten unseen, and not the bench's", async () => {
    const before = await typed();
    await send(PAGE, owner, set(before, "contact", "care@quillfen.example"));
    const late = await send(PAGE, owner, set(before, "contact", "other@quillfen.example"));
    expect(late.status).toBe(409);
    expect(await late.text()).toContain("other@quillfen.example");
    expect(new Map(await typed()).get("contact")).toBe("care@quillfen.example");
    expect((await look(PAGE, await benchHand(shop))).status).toBe(403);
  });
});
