/**
 * Tables of ingredients and lots, brought in through the maker's pages.
 */
import { count, eq, sum } from "drizzle-orm";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { ingredients, lots, stockMovements } from "#data/schema.ts";
import { type TestShop, openTestShop } from "../../helpers/shop.ts";

let shop: TestShop;
let cookie: string;
beforeEach(async () => {
  shop = await openTestShop();
  cookie = await shop.signIn();
});
afterEach(() => shop.close());

const FILES = "/maker/shelf/files";
const OURS = { "sec-fetch-site": "same-origin", accept: "text/html" };

const fetchPage = (path: string, init: RequestInit = {}) =>
  shop.request(path, { ...init, headers: { ...OURS, cookie, ...init.headers } });
const textOf = async (path: string) => (await fetchPage(path)).text();
/** What a person reads. */
const plain = (html: string) =>
  html
    .replace(/<[^>]+>/g, " ")
    .replaceAll("&#x27;", "'")
    .replaceAll("&quot;", '"')
    .replace(/\s+/g, " ");

function send(text: BlobPart, kind = "ingredients", days = "year-first") {
  const body = new FormData();
  body.set("kind", kind);
  body.set("days", days);
  body.set("file", new File([text], "table.csv", { type: "text/csv" }));
  return fetchPage(FILES, { method: "POST", body });
}

/** Bring a table in; answers the address of its preview. */
async function brought(text: BlobPart, kind?: string, days?: string): Promise<string> {
  const answer = await send(text, kind, days);
  expect(answer.status).toBe(303);
  return answer.headers.get("location")!;
}

const write = (preview: string) => fetchPage(preview.replace("?", "/write?"), { method: "POST" });
const everything = async () => ({
  ingredients: await shop.db.q.select().from(ingredients),
  lots: await shop.db.q.select().from(lots),
  movements: await shop.db.q.select().from(stockMovements),
});

describe("a table taken out", () => {
  it("changes nothing when it is brought back as it is", async () => {
    const hostile = { name: '=1+1 🧈 "שלום"', note: "'=x;\n-y,\ttab", supplier: "@sum" };
    await shop.db.atomic([
      shop.db.q.update(ingredients).set(hostile).where(eq(ingredients.id, "squalane")),
    ]);
    const before = await everything();
    for (const [kind, rows] of [
      ["ingredients", before.ingredients.length],
      ["lots", before.lots.length],
    ] as const) {
      const answer = await fetchPage(`${FILES}/${kind}.csv`);
      expect(answer.headers.get("content-type")).toContain("text/csv");
      expect(answer.headers.get("content-disposition")).toContain(`${kind}.csv`);
      const preview = await brought(await answer.text(), kind);
      const page = plain(await textOf(preview));
      expect(page).toContain("The shelf is as this table says");
      expect(page).toContain(`The same as on the shelf ${rows}`);
      await write(preview);
    }
    expect(await everything()).toEqual(before);
  });

  it("begins from a template that can be brought in as it is", async () => {
    for (const kind of ["ingredients", "lots"]) {
      const template = await textOf(`${FILES}/template-${kind}.csv`);
      const preview = await brought(template, kind);
      expect(plain(await textOf(preview))).toContain("1 row ready to be written");
      await write(preview);
      expect(plain(await textOf(preview))).toContain("The shelf is as this table says");
    }
    expect((await fetchPage(`${FILES}/template-none.csv`)).status).toBe(404);
  });
});

describe("a table of ingredients", () => {
  const TABLE = [
    "Ingredient;Own name;Pack;Pack price;Costs nothing;Greatest share %",
    "cocoa BUTTER;Kakao 🍫;2,5 kg;41,90;;", // 2: new
    "Shea butter;;1 kg;12,10;;", // 3: changes
    "Mangifera Indica (Mango) Seed Butter;;1000 g;16,40;;", // 4: as it is
    "Unobtainium;;1 kg;1;;", // 5
    "Olive oil;Zero;1 kg;0;;", // 6
    "Olive oil;Gift;1 kg;0;yes;", // 7: new
    "Olive oil;Stone;1 stone;3;;x", // 8: two faults
    "Olive oil;Gift;2 kg;3;;", // 9: row 7 again
  ].join("\r\n");

  it("is looked at before it is written: each bad row by number, column and what to do", async () => {
    const before = await everything();
    const preview = await brought(TABLE);
    const page = plain(await textOf(preview));
    expect(page).toContain("3 rows ready, 4 to mend");
    expect(page).toMatch(/5 Ingredient The library holds no “Unobtainium”/);
    expect(page).toMatch(/6 Pack price The price is zero/);
    expect(page).toMatch(/8 Pack “stone” is not a unit known here/);
    expect(page).toMatch(/8 Greatest share % “x” cannot be a greatest share/);
    expect(page).toMatch(/9 Id Row 7 is this ingredient already/);
    expect(page).toMatch(/Shea butter.+Pack price: 11\.80 → 12\.10/);
    expect(page).toContain("Kakao 🍫");
    const mend = await textOf(preview.replace("?", "/rows-to-mend.csv?"));
    expect(mend.trim().split("\r\n")).toHaveLength(6);
    expect(await everything()).toEqual(before);
  });

  it("writes the good rows only, and nothing more when it is written again", async () => {
    const preview = await brought(TABLE);
    const mark = async () => (await shop.shop.shops.offerMark("everyday"))!.costsRevision;
    const costs = await mark();
    expect((await write(preview)).headers.get("location")).toBe(preview);
    const after = await everything();
    expect(after.ingredients).toHaveLength(30);
    expect(await mark()).toBeGreaterThan(costs);
    const stored = after.ingredients.find(({ name }) => name === "Kakao 🍫");
    expect(stored).toMatchObject({ id: "kakao", packMg: 2_500_000, packMinor: 4190 });
    await write(preview);
    expect(await everything()).toEqual(after);
    expect(plain(await textOf(preview))).toContain("4 rows to mend, and nothing to write");
  });

  it("cannot be read without its headings, with other letters, empty, or too large", async () => {
    const preview = await brought("a,b\n1,2\n");
    const page = await fetchPage(preview);
    expect(page.status).toBe(422);
    expect(plain(await page.text())).toContain("no column “Ingredient”");
    expect(await write(preview)).toMatchObject({ status: 303 });
    for (const bad of [new Uint8Array([0xe9, 0x3b]), ""]) {
      expect((await send(bad)).status).toBe(422);
    }
    const large = await send("x".repeat(4 * 1024 * 1024 + 1));
    expect(plain(await large.text())).toContain("larger than 4 MiB");
    expect((await send("x".repeat(5 * 1024 * 1024))).status).toBe(413);
    expect((await fetchPage(`${FILES}/gone`)).status).toBe(404);
  });

  it("of ten thousand rows is looked at with two seconds of work, and written", async () => {
    const lines = Array.from({ length: 10_000 }, (_, at) => {
      const pack = at % 10 === 0 ? "5 stone" : "5 kg";
      return `Olive oil,Tub ${at} 🫒 זית,${pack},${at % 500}.50,note ${at}`;
    });
    const preview = await brought(
      ["Ingredient,Own name,Pack,Pack price,Note", ...lines].join("\n"),
    );
    // Work of the processor, so that a busy machine is no complaint.
    const from = process.cpuUsage();
    const page = plain(await textOf(preview));
    const { user, system } = process.cpuUsage(from);
    const lookedMs = (user + system) / 1000;
    expect(page).toContain("9000 rows ready, 1000 to mend");
    expect(page).toContain("The first 200 stand here");
    await write(preview);
    const [{ n }] = (await shop.db.q.select({ n: count() }).from(ingredients)) as [{ n: number }];
    expect(n).toBe(9028);
    expect(lookedMs).toBeLessThan(2000);
  });
});

describe("a table of lots", () => {
  const TABLE = [
    "Ingredient,Lot code,Received,On hand,Received on,Best before,Lot cost",
    "Shea butter,TB-2207,5 kg,1.7 kg,,,54", // 2: counted; its day is left as it is
    "kokum-butter,K-2,2 kg,,3/11/2025,03/11/2027,", // 3: new
    "kokum-butter,K-3,2 kg,3 kg,,,", // 4: more than arrived
    "kokum-butter,K-4,2 kg,,05/11/2025,04/11/2025,", // 5: days cross
    "kokum-butter,K-5,2 kg,,11/25/2025,,", // 6: no such day
    "nothing,K-6,2 kg,,,,", // 7
    "mango-butter,TB-M054,4 kg,,,,", // 8: what arrived stays
    "kokum-butter,,2 kg,,,,", // 9
  ].join("\n");

  it("counts by movements, receives what is new, and names each row to mend", async () => {
    const preview = await brought(TABLE, "lots", "day-first");
    const page = plain(await textOf(preview));
    expect(page).toContain("2 rows ready, 6 to mend");
    expect(page).toMatch(/4 On hand More is on hand than was received/);
    expect(page).toMatch(/5 Best before Best before 2025-11-04 is earlier than the day received/);
    expect(page).toMatch(/6 Received on There is no day “11\/25\/2025”/);
    expect(page).toMatch(/7 Ingredient “nothing” is not on your shelf/);
    expect(page).toMatch(/8 Received This lot arrived with 3 kg, and that stays/);
    expect(page).toMatch(/9 Lot code The lot code is missing/);
    await write(preview);
    await write(preview);
    const all = await shop.db.q.select().from(lots);
    for (const { id, onHandMg, code } of all) {
      const [row] = await shop.db.q
        .select({ mg: sum(stockMovements.deltaMg) })
        .from(stockMovements)
        .where(eq(stockMovements.lotId, id));
      expect([code, Number(row!.mg)]).toEqual([code, onHandMg]);
    }
    expect(all.find(({ code }) => code === "TB-2207")).toMatchObject({ onHandMg: 1_700_000 });
    expect(all.find(({ code }) => code === "K-2")).toMatchObject({
      ...{ receivedOn: "2025-11-03", bestBefore: "2027-11-03", onHandMg: 2_000_000 },
    });
    expect(all).toHaveLength(25);
  });
});
