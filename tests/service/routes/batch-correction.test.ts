/**
 * The lots of a batch by its pages: judged, corrected by the maker's word alone, taken back, and what is said where
 * nobody can judge or nothing helps.
 */
import { eq } from "drizzle-orm";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import type { QuoteRequest } from "#core/wire.ts";
import { batches, lots, orders, productVersions } from "#data/schema.ts";
import { readRecord, tellRecord } from "#service/batches/record.ts";
import { editionOf, linesOf, readSheets } from "#service/batches/sheets.ts";
import { sheaWith } from "../../helpers/certificates.ts";
import { fieldsOn } from "../../helpers/form-fields.ts";
import {
  type Fields,
  benchHand,
  payOrder,
  sendForm,
  setParticulars,
} from "../../helpers/shop-acts.ts";
import { type TestShop, aQuoteRequest, openTestShop } from "../../helpers/shop.ts";

const SHOP = "quillfen";
let shop: TestShop;
let owner: string;
beforeEach(async () => {
  shop = await openTestShop();
  owner = await shop.signIn();
});
afterEach(() => shop.close());

/** A fifth less stearic acid than the library’s. */
const SOFT_SHEA = sheaWith({ stearic: 35.73 });
const USUAL_SHEA = sheaWith({ stearic: 43.73 });

const send = (path: string, fields: Fields = [], cookie = owner) =>
  sendForm(shop, path, cookie, fields);
const paid = (change?: Partial<QuoteRequest>) => payOrder(shop, change);

const look = async (path: string, cookie = owner) => {
  const answer = await shop.request(path, { headers: { cookie, accept: "text/html" } });
  const page = (await answer.text()).replaceAll("\u00a0", " ").replaceAll("&#x27;", "'");
  return { status: answer.status, page };
};

async function written(...ids: string[]): Promise<string> {
  const fields = ids.map((id): [string, string] => ["order", id]);
  return (await send("/maker/batches", fields)).headers.get("location")!.split("/").at(-1)!;
}

async function change(code: string, to: Partial<typeof lots.$inferInsert>) {
  await shop.db.atomic([shop.db.q.update(lots).set(to).where(eq(lots.code, code))]);
}

async function lotId(code: string): Promise<string> {
  return (await shop.db.q.select().from(lots).where(eq(lots.code, code)))[0]!.id;
}

async function batchRow(number: string) {
  return (await shop.shop.batches.byNumber(SHOP, number))!;
}

const sharesOf = async (number: string, run = 0) =>
  linesOf(readSheets((await batchRow(number)).workOrder).runs[run]!).map(
    ({ ingredient, share }) => [ingredient, share] as const,
  );

async function tightBounds() {
  const [row] = await shop.db.q
    .select()
    .from(productVersions)
    .where(eq(productVersions.productId, "everyday"));
  const product = JSON.parse(row!.product) as {
    bases: { butters: Bound[]; oils: Bound[] }[];
  };
  interface Bound {
    share: number;
    least: number;
    greatest: number;
  }
  for (const each of product.bases.flatMap(({ butters, oils }) => [...butters, ...oils])) {
    each.least = each.share - 10;
    each.greatest = each.share + 10;
  }
  await shop.db.atomic([
    shop.db.q
      .update(productVersions)
      .set({ product: JSON.stringify(product) })
      .where(eq(productVersions.productId, "everyday")),
  ]);
}

/** A batch whose shea is too soft for what was promised. */
async function softBatch() {
  await change("TB-2207", { certificate: SOFT_SHEA });
  const order = await paid();
  const number = await written(order.id);
  return { number, order, path: `/maker/batches/${number}/correction/1` };
}

describe("the lots of a batch", () => {
  it("that keep the promise are said to, and nothing else happens", async () => {
    await change("TB-2207", { certificate: USUAL_SHEA });
    const number = await written((await paid()).id);
    const { page } = await look(`/maker/batches/${number}`);
    expect(page).toContain("With these lots it keeps what was promised");
    expect((await look(`/maker/batches/${number}/correction/1`)).page).toContain(
      "Nothing needs to be changed",
    );
    expect((await look(`/maker/batches/${number}/sheets`)).page).not.toContain("Look at the batch");
  });

  it("without a certificate cannot be judged, and it says what to do", async () => {
    await change("TB-C118", { certificate: null });
    const number = await written((await paid()).id);
    const batch = await look(`/maker/batches/${number}`);
    expect(batch.page).toContain("None of the lots suggested has a certificate");
    const { page } = await look(`/maker/batches/${number}/correction/1`);
    expect(page).toContain("Cannot judge these lots");
    expect(page).toContain("certificate of analysis");
    expect(page).not.toContain("corrected shares");
  });

  it.each([
    ['{"fattyAcids":{"18:1":40}}', "adds up to 40 %"],
    ['{"fattyAcids":{"99:9":100}}', "not a fatty acid or fat known here"],
    ["{", "cannot be used"],
  ])("with a paper that cannot be used (%s) cannot be judged", async (certificate, says) => {
    await change("TB-2207", { certificate });
    const number = await written((await paid()).id);
    for (const where of ["", "/correction/1", "/sheets"]) {
      const { status, page } = await look(`/maker/batches/${number}${where}`);
      expect(status).toBe(200);
      expect(page).toContain("Cannot judge these lots");
      expect(page).toContain(says);
    }
  });

  it("that leave the promise are told on the page and on the work order, and nothing is changed", async () => {
    const { number, path } = await softBatch();
    const before = await batchRow(number);
    const { page } = await look(`/maker/batches/${number}`);
    expect(page).toContain("These lots leave the promise");
    expect(page).toContain("the order was promised 26 °C");
    expect(page).toContain(`href="${path}"`);
    const sheet = (await look(`/maker/batches/${number}/sheets`)).page;
    expect(sheet).toContain("These lots leave the promise");
    expect(sheet).toContain("before you weigh");
    await look(path);
    expect(await batchRow(number)).toEqual(before);
  });
});

describe("a correction", () => {
  it("is proposed with what it does before and after, and what it costs to the owner alone", async () => {
    const { path } = await softBatch();
    const { page } = await look(path);
    for (const word of ["more shea butter", "As quoted", "With these lots", "Corrected"]) {
      expect(page).toContain(word);
    }
    expect(page).toMatch(
      /Material of the run: £\d+\.\d\d before, £\d+\.\d\d after, £\d+\.\d\d cheaper/,
    );
    expect(page).toContain("The price stays what the customer paid");
    expect(page).toContain("lot <bdi>TB-2291</bdi>");
    const seenByHand = (await look(path, await benchHand(shop))).page;
    expect(seenByHand).toContain("Make it with the corrected shares");
    expect(seenByHand).not.toMatch(/£|Material of the run/);
  });

  it("accepted changes sheet, label and record at once; the order and its price stay", async () => {
    const { number, order, path } = await softBatch();
    const ordered = await sharesOf(number);
    const [before] = await shop.db.q.select().from(orders).where(eq(orders.id, order.id));
    const answer = await send(path, fieldsOn((await look(path)).page));
    expect(answer.headers.get("location")).toBe(`/maker/batches/${number}`);

    const batch = await batchRow(number);
    const sheets = readSheets(batch.workOrder);
    const corrected = await sharesOf(number);
    expect(corrected.map(([id]) => id).sort()).toEqual(ordered.map(([id]) => id).sort());
    expect(corrected).not.toEqual(ordered);
    expect(corrected.reduce((sum, [, share]) => sum + share, 0)).toBe(10_000);
    expect(editionOf(sheets)).toBe(2);
    const [run] = sheets.runs;
    const lines = linesOf(run!);
    expect(lines.reduce((sum, { targetMg }) => sum + targetMg, 0)).toBe(249_600);
    const listed = [...lines].sort((a, b) => b.share - a.share).map(({ inci }) => inci);
    expect(run!.workOrder.label.entries.map(({ inci }) => inci)).toEqual(listed);
    expect(run!.workOrder.promise.softensAboveLeastC).toBeGreaterThanOrEqual(26);
    expect(run!.correction).toMatchObject({ by: "Owner" });

    const { entries, check } = await readRecord(shop.shop, batch);
    const told = entries.at(-1)!;
    expect(check.faults).toEqual([]);
    expect(told).toMatchObject({ kind: "lot-correction", body: { run: 0, what: "corrected" } });

    const page = (await look(`/maker/batches/${number}`)).page;
    expect(page).toContain("Corrected for its lots");
    expect(page).toContain("is void; its number stays");
    const sheet = (await look(`/maker/batches/${number}/sheets`)).page;
    expect(sheet).toContain("Sheet 2.");
    expect(sheet).toContain("was 15.00 %");
    expect(sheet).toContain("Shea butter, lot TB-2207, the blend as ordered leaves its promise");
    const [after] = await shop.db.q.select().from(orders).where(eq(orders.id, order.id));
    expect(after).toEqual(before);
  });

  it("is taken back to the sheet as it was issued, and both stay told", async () => {
    const { number, path } = await softBatch();
    const issued = readSheets((await batchRow(number)).workOrder).runs;
    await send(path, fieldsOn((await look(path)).page));
    expect((await look(path)).page).toContain("Take the correction back");
    expect((await send(`${path}/take-back`)).status).toBe(303);
    const batch = await batchRow(number);
    expect(readSheets(batch.workOrder).runs).toEqual(issued);
    expect(editionOf(readSheets(batch.workOrder))).toBe(3);
    const { entries } = await readRecord(shop.shop, batch);
    const told = entries.flatMap(({ kind, body }) =>
      kind === "lot-correction" ? [body.what] : [],
    );
    expect(told).toEqual(["corrected", "taken-back"]);
    expect((await send(`${path}/take-back`)).status).toBe(409);
  });

  it("is neither made nor taken back once the batch is started or closed", async () => {
    const { number, path } = await softBatch();
    const fields = fieldsOn((await look(path)).page);
    const body = { checks: [], missing: [], words: "" };
    const start = async () =>
      tellRecord(shop.shop, await batchRow(number), { kind: "started", by: "Owner", body });
    await start();
    const before = await batchRow(number);
    const answer = await send(path, fields);
    expect(answer.status).toBe(409);
    expect(await answer.text()).toContain("has been started");
    expect(await batchRow(number)).toEqual(before);
    expect((await look(path)).page).not.toContain("Make it with the corrected shares");
  });

  it("that the shelf no longer bears out is shown anew and not stored", async () => {
    const { number, path } = await softBatch();
    const fields = fieldsOn((await look(path)).page);
    await change("TB-2207", {
      certificate: sheaWith({ stearic: 37.73 }),
    });
    const before = await batchRow(number);
    const answer = await send(path, fields);
    expect(answer.status).toBe(409);
    expect(await answer.text()).toContain("Nothing was changed.");
    expect(await batchRow(number)).toEqual(before);
  });

  it("sent twice is made once", async () => {
    const { number, path } = await softBatch();
    const fields = fieldsOn((await look(path)).page);
    const answers = await Promise.all([send(path, fields), send(path, fields)]);
    expect(answers.map(({ status }) => status).sort()).toEqual([303, 409]);
    expect(editionOf(readSheets((await batchRow(number)).workOrder))).toBe(2);
  });

  it("keeps its lots: the sheet and the closing form name them though another would come first", async () => {
    await change("TB-2291", { certificate: SOFT_SHEA });
    const number = await written((await paid()).id);
    const path = `/maker/batches/${number}/correction/1`;
    const chosen = `${path}?lot=${await lotId("TB-2291")}`;
    const { page } = await look(chosen);
    expect(page).toContain("These lots leave the promise");
    await send(path, fieldsOn(page));
    expect((await look(`/maker/batches/${number}/sheets`)).page).toContain(">TB-2291<");
    const closing = (await look(`/maker/batches/${number}/close`)).page;
    expect(fieldsOn(closing).map(([, value]) => value)).toContain(await lotId("TB-2291"));
  });

  it("is made for one run of two, and leaves the other as it was", async () => {
    await change("TB-2207", { certificate: SOFT_SHEA });
    const butters = [
      { ingredient: "shea-butter", share: 6200 },
      { ingredient: "cocoa-butter", share: 800 },
    ];
    const [one, two] = [
      await paid(),
      await paid({ choice: { ...aQuoteRequest().choice, butters } }),
    ];
    const number = await written(one.id, two.id);
    const path = `/maker/batches/${number}/correction/2`;
    const first = await sharesOf(number, 0);
    await send(path, fieldsOn((await look(path)).page));
    expect(await sharesOf(number, 0)).toEqual(first);
    expect(readSheets((await batchRow(number)).workOrder).runs[1]!.correction).toBeDefined();
    expect((await look(`/maker/batches/${number}/correction/3`)).status).toBe(404);
    expect((await look(`/maker/batches/${number}/correction/x`)).status).toBe(404);
  });
});

describe("where the lots give trouble", () => {
  it("says which rule stands in the way, and what else could be done", async () => {
    await tightBounds();
    const { number, order, path } = await softBatch();
    const { page } = await look(path);
    expect(page).toContain("no shift of shares restores it");
    expect(page).toContain("What stands in the way");
    expect(page).toContain("It must keep its body to 26 °C");
    expect(page).toContain("Take another lot");
    expect(page).toContain("No other oil of this product restores it either");
    expect(page).toContain(`href="/maker/orders/${order.reference}"`);
    expect((await look(path, await benchHand(shop))).page).not.toContain("/maker/orders/");
    const other = /href="([^"]+\?lot[^"]+)"/.exec(page)![1]!.replaceAll("&#x3D;", "=");
    expect((await look(other)).page).toContain("Take lot TB-2291 at the bench");
    expect((await send(path, [["seen", ""]])).status).toBe(409);
    expect(editionOf(readSheets((await batchRow(number)).workOrder))).toBe(1);
  });

  it.each([
    [{ bestBefore: "2020-01-31" }, "is past its best-before of 2020-01-31"],
    [{ blockedBecause: "Smells old" }, "is blocked (Smells old)"],
    [{ onHandMg: 1000 }, "holds only 1.00 g, less than one weighing"],
  ])("says why a lot cannot be taken (%o)", async (to, says) => {
    const { path } = await softBatch();
    await change("TB-2291", to);
    const { page } = await look(`${path}?lot=${await lotId("TB-2291")}`);
    expect(page).toContain(says);
    expect(page).toContain("These lots leave the promise");
    expect(page).not.toContain("lot <bdi>TB-2291</bdi>");
  });

  it("says what is short of the corrected shares", async () => {
    const { path } = await softBatch();
    await change("TB-2291", { onHandMg: 0 });
    await change("TB-2207", { onHandMg: 160_000 });
    const { page } = await look(path);
    expect(page).toContain("Make it with the corrected shares");
    expect(page).toMatch(/Short:<.strong> these lots lack \d+\.\d\d g of Shea butter/);
  });

  it("mixes two lots of one weighing, and asks for one where papers cannot be mixed", async () => {
    await change("TB-2207", { onHandMg: 60_000, certificate: SOFT_SHEA });
    await change("TB-2291", {
      certificate: sheaWith({ stearic: 33.73 }),
    });
    const number = await written((await paid()).id);
    const path = `/maker/batches/${number}/correction/1`;
    const { page } = await look(path);
    expect(page).toContain("TB-2207, then TB-2291");
    await send(path, fieldsOn(page));
    const { lots: kept } = readSheets((await batchRow(number)).workOrder).runs[0]!.correction!;
    expect(kept.map(({ code }) => code)).toEqual(["TB-C118", "TB-2207", "TB-2291"]);
    expect(kept[1]!.takeMg).toBe(60_000);
    const curve = [
      { celsius: 10, percent: 80 },
      { celsius: 30, percent: 20 },
    ];
    await change("TB-2207", { certificate: JSON.stringify({ solidFatCurve: curve }) });
    expect((await look(`/maker/batches/${number}`)).page).toContain("cannot be reckoned together");
  });

  it("says that the scale or the vessel is too coarse for the corrected shares", async () => {
    const { path } = await softBatch();
    await setParticulars(shop, { vesselMg: 20 });
    const { page } = await look(path);
    expect(page).toContain("cannot be made here");
    expect(page).toMatch(/too coarse to weigh|Nothing was changed/);
    expect(page).not.toContain("Make it with the corrected shares");
  });

  it("asks nothing of a trial or of a batch that is closed", async () => {
    const { number, path } = await softBatch();
    await send(path, fieldsOn((await look(path)).page));
    await shop.db.atomic([
      shop.db.q.update(batches).set({ state: "set-aside" }).where(eq(batches.number, number)),
    ]);
    expect((await send(`${path}/take-back`)).status).toBe(409);
    expect((await look(path)).page).not.toContain("Take the correction back");
  });
});
