/**
 * The shelf as the maker uses it: ingredients, lots, the ledger.
 */
import { eq } from "drizzle-orm";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import type { ProductOffer } from "#core/wire.ts";
import { ingredients, lots, people, sessions, stockMovements } from "#data/schema.ts";
import { hashToken } from "#service/numbers.ts";
import { dayAt, daysAfter } from "#service/days.ts";
import { type TestShop, openTestShop } from "../../helpers/shop.ts";

let shop: TestShop;
let cookie: string;
let today: string;
beforeEach(async () => {
  shop = await openTestShop();
  cookie = await shop.signIn();
  today = dayAt("Europe/London", shop.shop.clock.seconds());
});
afterEach(() => shop.close());

type Fields = Readonly<Record<string, string>>;
const HERE = "/maker/shelf";

function send(path: string, fields: Fields = {}) {
  return shop.request(`${HERE}${path}`, {
    method: "POST",
    headers: { "sec-fetch-site": "same-origin", cookie, accept: "text/html" },
    body: new URLSearchParams(fields),
  });
}

const get = (path = "", who = cookie) =>
  shop.request(`${HERE}${path}`, { headers: { cookie: who, accept: "text/html" } });
const page = async (path = "") => plain(await (await get(path)).text());

/** What a person reads, marks of direction and markup left out. */
function plain(html: string): string {
  return html
    .replace(/<[^>]+>/g, "")
    .replaceAll("\u00a0", " ")
    .replaceAll("&#x27;", "'")
    .replaceAll("&amp;", "&")
    .replace(/\s+/g, " ");
}

const row = async (id: string) =>
  (await shop.db.q.select().from(ingredients).where(eq(ingredients.id, id)))[0];
const lotRow = async (id: string) =>
  (await shop.db.q.select().from(lots).where(eq(lots.id, id)))[0]!;
const ledger = (lotId: string) =>
  shop.db.q.select().from(stockMovements).where(eq(stockMovements.lotId, lotId));

const aForm = (change: Fields = {}): Fields => ({
  ...{ of: "cupuacu-butter", revision: "0", name: "Cupuaçu 🧈 כד", supplier: "شركة ‏الزيوت" },
  ...{ pack: "5 lb", price: "48,50", refined: "unrefined", scent: "", doseMost: "12,5" },
  ...{ lowBelow: "500 g", note: "" },
  ...change,
});

const aLot = (change: Fields = {}): Fields => ({
  ...{ id: crypto.randomUUID(), revision: "0", code: "L-1", supplier: "Thornwick Butters" },
  ...{ quantity: "2.5 kg", cost: "30", receivedOn: today, bestBefore: daysAfter(today, 300) },
  ...{ note: "", fattyAcids: "", sn2: "", triacylglycerols: "", solidFat: "" },
  ...change,
});

/** Receive a lot of cocoa butter; answers its id. */
async function received(change: Fields = {}): Promise<string> {
  const form = aLot(change);
  const answer = await send("/cocoa-butter/receive", form);
  expect(answer.status).toBe(303);
  return form["id"]!;
}

const lastOf = async (lotId: string) =>
  String(Math.max(0, ...(await ledger(lotId)).map(({ id }) => id)));
const priceOf = async () => {
  shop.pass(2);
  const offer = await (await shop.request("/v1/products/everyday")).json();
  return JSON.stringify((offer as ProductOffer).tariffs);
};

describe("the shelf's list", () => {
  it("says first what to look at: low, near its date, without a price", async () => {
    const text = await page();
    expect(text).toMatch(/3 things to look at on the shelf/);
    expect(text).toMatch(/Low Jojoba oil 320 g to use, and you asked to be told below 500 g/);
    expect(text).toMatch(
      /Near its date Hemp seed oil, lot SO-4208 410 g, best before .+ in 23 days/,
    );
    expect(text).toMatch(/No price Raw shea, the smoky tub/);
    expect(text).toMatch(/within 60 days/);
  });

  it("finds by own name, by INCI name and by supplier, and takes wild cards for letters", async () => {
    expect(await page("?q=smoky")).toContain("Raw shea, the smoky tub");
    expect(await page("?q=theobroma")).toContain("Cocoa butter");
    expect(await page("?q=pennyfold")).toContain("Tapioca starch");
    expect(await page("?q=%25")).toContain("Nothing here by that name");
  });

  it("turns its pages by fifty and holds every row once", async () => {
    const { shopId, ...bare } = (await row("squalane"))!;
    const more = Array.from({ length: 80 }, (_, at) => `z-${String(at).padStart(3, "0")}`);
    for (const id of more) {
      await shop.db.atomic([
        shop.db.q.insert(ingredients).values({ ...bare, shopId, id, name: id }),
      ]);
    }
    const first = await (await get("?q=z-0")).text();
    expect(first.match(/z-0\d\d<\/bdi>/g)).toHaveLength(50);
    const next = /href="([^"]+)" rel="next"/
      .exec(first)![1]!
      .replaceAll("&amp;", "&")
      .replaceAll("&#x3D;", "=");
    const second = await (await get(next.slice(HERE.length))).text();
    expect(second.match(/z-0\d\d<\/bdi>/g)).toHaveLength(30);
    expect(second).not.toContain('rel="next"');
  });

  it("teaches while it is empty", async () => {
    await shop.db.atomic([
      shop.db.q.delete(stockMovements),
      shop.db.q.delete(lots),
      shop.db.q.delete(ingredients),
    ]);
    expect(await page()).toMatch(/Fill the shelf.+Nothing here yet. Add what you buy/);
  });

  it("is the owner's alone", async () => {
    const token = "b".repeat(43);
    const at = shop.shop.clock.seconds();
    const person = { id: "p-bench", shopId: "quillfen", name: "Wren", role: "bench" as const };
    await shop.db.atomic([
      shop.db.q.insert(people).values({ ...person, createdAt: at }),
      shop.db.q.insert(sessions).values({
        ...{ tokenHash: await hashToken(token), shopId: "quillfen", personId: person.id },
        ...{ createdAt: at, expiresAt: at + 600 },
      }),
    ]);
    const bench = `${cookie.split("=")[0]}=${token}`;
    for (const path of ["", "/new", "/cocoa-butter", "/lots/demo-tb-c118", "/files/lots.csv"]) {
      expect([path, (await get(path, bench)).status]).toEqual([path, 403]);
    }
  });
});

describe("an ingredient", () => {
  it("comes from the library under the maker's own name, whatever its letters", async () => {
    expect(await page("/new?q=grandiflorum")).toContain("Cupuaçu butter");
    const answer = await send("/new", aForm());
    expect(answer.headers.get("location")).toBe(`${HERE}/cupuacu-butter`);
    expect(await row("cupuacu-butter")).toMatchObject({
      ...{ name: "Cupuaçu 🧈 כד", packText: "5 lb", packMinor: 4850, packMg: 2_267_962 },
      ...{ refined: "unrefined", doseMostShare: 1250, lowBelowMg: 500_000, revision: 1 },
    });
    const text = await page("/cupuacu-butter");
    expect(text).toContain("Cupuaçu 🧈 כד");
    expect(text).toContain("£48.50 for 5 lb");
    expect(text).toContain("Per kg£21.38");
  });

  it("is bought twice under two names, and never twice under one", async () => {
    await send("/new", aForm());
    const twin = await send("/new", aForm());
    expect(twin.status).toBe(422);
    expect(plain(await twin.text())).toContain(
      "on your shelf already. To keep both, give this one a name",
    );
    const other = await send("/new", aForm({ name: "From the other tub" }));
    expect(other.headers.get("location")).toBe(`${HERE}/from-the-other-tub`);
    const third = await send("/new", aForm({ name: "New" }));
    expect(third.headers.get("location")).toBe(`${HERE}/new-2`);
  });

  it.each([
    ["a unit nobody knows", { pack: "5 stone" }, /“stone” is not a unit known here/],
    ["a pack without a unit", { pack: "5" }, /“5” has no unit: add one of g, kg/],
    ["an amount that reads two ways", { pack: "1,500 g" }, /Write 1,5000 g or 1500 g/],
    ["a pack of nothing", { pack: "0 kg" }, /“0 kg” is nothing/],
    ["a price of zero", { price: "0" }, /The price is zero. If it costs you nothing, say so/],
    ["a price below zero", { price: "-3" }, /below nothing/],
    ["a third decimal of a penny", { price: "1.234" }, /could mean/],
    ["another currency", { price: "12 EUR" }, /is in EUR, and this shop reckons in GBP/],
    ["a price without a pack", { pack: "" }, /The amount is missing/],
    ["a pack without a price", { price: "" }, /What does a pack of 5 lb cost/],
    ["more than the whole", { doseMost: "120" }, /cannot be a greatest share/],
    [
      "a volume of a wax",
      { of: "beeswax", pack: "1 l" },
      /The density of Beeswax is not known: give the weight/,
    ],
  ])("is not saved with %s, and keeps what was typed", async (_, change, sentence) => {
    const answer = await send("/new", aForm({ name: "Kept words", ...change }));
    expect(answer.status).toBe(422);
    const html = await answer.text();
    expect(plain(html)).toMatch(sentence);
    expect(html).toContain('value="Kept words"');
    expect(await row("kept-words")).toBeUndefined();
  });

  it("may cost nothing when the maker says so, and may have no price yet", async () => {
    expect((await send("/new", aForm({ price: "0", free: "yes" }))).status).toBe(303);
    expect((await row("cupuacu-butter"))!.packMinor).toBe(0);
    const none = await send("/new", aForm({ name: "Unpriced", price: "", pack: "" }));
    expect(await page(none.headers.get("location")!.slice(HERE.length))).toMatch(
      /No price No product that holds it can be priced/,
    );
  });

  it("changes every offer that holds it when its price changes", async () => {
    const before = await priceOf();
    const { revision } = (await row("shea-butter"))!;
    const form = aForm({ name: "", pack: "1 kg", price: "60", revision: String(revision) });
    expect((await send("/shea-butter/edit", form)).status).toBe(303);
    expect(await priceOf()).not.toBe(before);
  });

  it("tells the second of two people what the first one saved, and overwrites nothing", async () => {
    const form = aForm({ name: "", pack: "1 kg", price: "20", revision: "1" });
    expect((await send("/shea-butter/edit", form)).status).toBe(303);
    const late = await send("/shea-butter/edit", { ...form, price: "30" });
    expect(late.status).toBe(409);
    const html = await late.text();
    expect(plain(html)).toContain("Price: now “20.00”, you typed “30”");
    expect((await row("shea-butter"))!.packMinor).toBe(2000);
    expect(html).toContain('name="revision" value="2"');
    expect((await send("/shea-butter/edit", { ...form, price: "30", revision: "2" })).status).toBe(
      303,
    );
    expect((await row("shea-butter"))!.packMinor).toBe(3000);
  });

  it("is put away though products name it, says which, and goes on being sold", async () => {
    expect(await page("/shea-butter")).toMatch(
      /Still named by Deep winter butter, Evening butter, Everyday butter/,
    );
    await send("/shea-butter/put-away", { revision: "1" });
    expect(await page("/shea-butter")).toMatch(/Put away\. It is offered for nothing new/);
    expect(await page("?q=shea-butter")).not.toContain("Refined shea");
    expect(await priceOf()).toContain("shea-butter");
    await send("/shea-butter/put-back", { revision: "2" });
    expect((await row("shea-butter"))!.archivedAt).toBeNull();
  });

  it("suggests what expires first and says what is short", async () => {
    const text = await page("/shea-butter?need=3+kg");
    expect(text).toMatch(/1\.85 kg from lot TB-2207, best before .+1\.15 kg from lot TB-2291/);
    expect(await page("/shea-butter?need=9+kg")).toMatch(/2\.15 kg short\. Receive a lot/);
    expect(await page("/shea-butter?need=lots")).toMatch(/is not an amount/);
  });

  it("is not there under a name nobody gave", async () => {
    expect((await get("/unheard-of")).status).toBe(404);
    expect((await get("/lots/unheard-of")).status).toBe(404);
    expect((await send("/new", aForm({ of: "unheard-of" }))).status).toBe(404);
  });
});

describe("a lot", () => {
  it("is received once, though its form is sent twice", async () => {
    const form = aLot({ quantity: "500 ml at 40 °C" });
    for (let time = 0; time < 2; time++) {
      expect((await send("/cocoa-butter/receive", form)).status).toBe(303);
    }
    const { onHandMg, receivedMg } = await lotRow(form["id"]!);
    // Liquid cocoa butter weighs 0.89 to 0.90 g/ml at 40 °C (density.ts says from what).
    expect(receivedMg).toBeGreaterThan(440_000);
    expect(receivedMg).toBeLessThan(452_000);
    expect(onHandMg).toBe(receivedMg);
    expect((await ledger(form["id"]!)).map(({ why, deltaMg }) => [why, deltaMg])).toEqual([
      ["received", receivedMg],
    ]);
    const again = await send("/cocoa-butter/receive", aLot());
    expect(again.status).toBe(422);
    expect(plain(await again.text())).toContain("You have a lot “L-1” of this already");
  });

  it.each([
    ["no code", { code: " " }, /The lot code is missing. If the pack bears none/],
    [
      "a best-before before it came",
      { bestBefore: "2026-01-01", receivedOn: "2026-02-01" },
      /Best before 2026-01-01 is earlier than the day received/,
    ],
    ["a day still to come", { receivedOn: "2030-01-01" }, /is still to come/],
    ["a year far off", { bestBefore: "3026-11-25" }, /The year 3026 is far off/],
    ["a day not in the calendar", { bestBefore: "2027-02-30" }, /There is no day “2027-02-30”/],
    ["a day in words", { bestBefore: "next spring" }, /is not a day: write year-month-day/],
    ["a cost of zero", { cost: "0" }, /The cost is zero/],
    ["no amount", { quantity: "" }, /The amount is missing/],
    [
      "acids that do not add up",
      { fattyAcids: "16:0 26\n18:0 35" },
      /adds up to 61 %; it must lie between 98 and 102/,
    ],
    [
      "an acid nobody knows",
      { fattyAcids: "16:0 26\n99:9 74" },
      /99:9.+is not a fatty acid or fat known here/,
    ],
    ["one reading", { solidFat: "20 75" }, /needs at least 2 readings/],
    ["a curve that rises", { solidFat: "20 60\n30 70" }, /must fall with temperature; at 30 °C/],
    [
      "a line that is no figure",
      { fattyAcids: "palmitic" },
      /“palmitic” is not a name and a figure/,
    ],
  ])("is not received with %s", async (_, change, sentence) => {
    const form = aLot({ code: "kept", ...change });
    const answer = await send("/cocoa-butter/receive", form);
    expect(answer.status).toBe(422);
    expect(plain(await answer.text())).toMatch(sentence);
    expect(await lotRow(form["id"]!)).toBeUndefined();
  });

  it("keeps a certificate pasted with tabs, commas and percent signs, and shows what it changes", async () => {
    const fattyAcids = "C16:0\t25,6 %\r\n18:0: 35\r\n18:1;34.4\r\n18:2 = 3\r\n20:0 1.5";
    const id = await received({ fattyAcids, solidFat: "10 °C 91\n20 82\n30 45" });
    const certificate = JSON.parse((await lotRow(id)).certificate!) as object;
    expect(certificate).toEqual({
      fattyAcids: { "16:0": 25.6, "18:0": 35, "18:1": 34.4, "18:2": 3, "20:0": 1.5 },
      solidFatCurve: [
        { celsius: 10, percent: 91 },
        { celsius: 20, percent: 82 },
        { celsius: 30, percent: 45 },
      ],
    });
    const text = await page(`/lots/${id}`);
    expect(text).toMatch(/5 fatty acids, solid fat at 3 temperatures/);
    expect(text).toMatch(/This lot91 %82 %/);
    const edit = await (await get(`/lots/${id}/edit`)).text();
    expect(edit).toContain("16:0 25.6\n18:0 35");
  });

  it("is counted, wasted and undone by movements that add up, and never loses one", async () => {
    const id = await received();
    const act = async (path: string, fields: Fields) =>
      await send(`/lots/${id}/${path}`, { last: await lastOf(id), ...fields });
    expect((await act("count", { counted: "2,42 kg", countNote: "scale" })).status).toBe(303);
    expect((await act("waste", { wasted: "20 g", wasteNote: "spilt" })).status).toBe(303);
    expect((await lotRow(id)).onHandMg).toBe(2_400_000);
    expect((await act("undo", {})).status).toBe(303);
    expect((await lotRow(id)).onHandMg).toBe(2_420_000);
    expect((await act("undo", {})).status).toBe(422);
    const moves = await ledger(id);
    expect(moves.map(({ why, deltaMg }) => [why, deltaMg])).toEqual([
      ["received", 2_500_000],
      ["count", -80_000],
      ["waste", -20_000],
      ["undone", 20_000],
    ]);
    expect(moves.reduce((sum, { deltaMg }) => sum + deltaMg, 0)).toBe(2_420_000);
    expect(await page(`/lots/${id}`)).toMatch(/Undone.+\+20 g2\.42 kg.+Wasted spilt−20 g2\.4 kg/);
    await act("count", { counted: "0 g" });
    expect((await lotRow(id)).onHandMg).toBe(0);
  });

  it("gives no more than it holds, and says what is left", async () => {
    const id = await received();
    const answer = await send(`/lots/${id}/waste`, { last: await lastOf(id), wasted: "3 kg" });
    expect(answer.status).toBe(422);
    const html = await answer.text();
    expect(plain(html)).toContain("Only 2.5 kg is left of this lot");
    expect(html).toContain('value="3 kg"');
    expect((await lotRow(id)).onHandMg).toBe(2_500_000);
  });

  it("cuts no note short: one that is too long is told to be", async () => {
    const id = await received();
    const fields = { last: await lastOf(id), wasted: "1 g", wasteNote: "x".repeat(2001) };
    const answer = await send(`/lots/${id}/waste`, fields);
    expect(answer.status).toBe(422);
    expect(plain(await answer.text())).toContain("Keep it to 2000 characters; it has 2001.");
    expect((await lotRow(id)).onHandMg).toBe(2_500_000);
  });

  it("is moved by nobody who looked at an older page", async () => {
    const id = await received();
    const last = await lastOf(id);
    await send(`/lots/${id}/waste`, { last, wasted: "100 g" });
    const twice = await send(`/lots/${id}/waste`, { last, wasted: "100 g" });
    expect(twice.status).toBe(409);
    expect(plain(await twice.text())).toContain("Nothing was changed. The lot moved");
    expect((await lotRow(id)).onHandMg).toBe(2_400_000);
    const broken = await send(`/lots/${id}/waste`, { last: "x", wasted: "1 g" });
    expect(broken.status).toBe(400);
  });

  it("is suggested no more while it is blocked or put away", async () => {
    const [lot] = await shop.db.q.select().from(lots).where(eq(lots.code, "TB-2207"));
    expect((await send(`/lots/${lot!.id}/block`, { revision: "1", because: " " })).status).toBe(
      422,
    );
    await send(`/lots/${lot!.id}/block`, { revision: "1", because: "recalled by the supplier" });
    expect(await page()).toMatch(
      /Blocked Shea butter, lot TB-2207 1\.85 kg\. recalled by the supplier/,
    );
    expect(await page("/shea-butter?need=1+kg")).toMatch(/1 kg from lot TB-2291/);
    await send(`/lots/${lot!.id}/unblock`, { revision: "2" });
    expect(await page("/shea-butter?need=1+kg")).toMatch(/1 kg from lot TB-2207/);
    await send(`/lots/${lot!.id}/put-away`, { revision: "3" });
    expect(await page("/shea-butter?need=1+kg")).toMatch(/1 kg from lot TB-2291/);
    await send(`/lots/${lot!.id}/put-back`, { revision: "4" });
    expect(await page("/shea-butter?need=1+kg")).toMatch(/1 kg from lot TB-2207/);
  });

  it("is put right later: days, cost and code, for one of two people", async () => {
    const id = await received();
    const form = aLot({ code: "L-1b", cost: "31", revision: "1" });
    expect((await send(`/lots/${id}/edit`, form)).status).toBe(303);
    expect(await lotRow(id)).toMatchObject({
      code: "L-1b",
      costMinor: 3100,
      receivedMg: 2_500_000,
    });
    const late = await send(`/lots/${id}/edit`, { ...form, cost: "32" });
    expect(late.status).toBe(409);
    expect(plain(await late.text())).toContain("Cost: now “31.00”, you typed “32”");
    const taken = await send(`/lots/${id}/edit`, { ...form, code: "TB-C118", revision: "2" });
    expect(taken.status).toBe(422);
    expect(plain(await taken.text())).toContain("Another lot of this ingredient bears that code");
  });
});

describe("what could stand in", () => {
  it("is asked for on the page of an ingredient, and ranked for each base that starts with it", async () => {
    const quiet = await page("/jojoba-oil");
    expect(quiet).toContain("What could stand in?");
    expect(quiet).not.toContain("What can stand in");
    const asked = await page("/jojoba-oil?standIn=1");
    expect(asked).toMatch(
      /What can stand in .*In Soft shea, Everyday butter Oils its place allows/,
    );
    expect(asked).toContain("In Kokum cloud, Featherlight butter");
    expect(asked).toContain("Squalane");
    expect(asked).toContain("Weigh a trial before you sell it");
  });

  it("takes a butter's from the shelf, and leaves out what was put away", async () => {
    const before = await page("/cocoa-butter?standIn=1");
    expect(before).toContain("Others of its kind on your shelf");
    expect(before).toContain("Kokum butter");
    await send("/kokum-butter/put-away", {
      revision: String((await row("kokum-butter"))!.revision),
    });
    expect(await page("/cocoa-butter?standIn=1")).not.toMatch(/[●✕?] Kokum butter/);
  });

  it("has nothing to say of what no base starts with", async () => {
    expect(await page("/meadowfoam-oil?standIn=1")).toContain("No base starts with it");
  });
});
