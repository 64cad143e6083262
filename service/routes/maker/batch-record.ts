/**
 * The record of a batch: read, exported, and written into. The bench writes what it saw; only an owner decides.
 */
import { Hono } from "hono";
import { batchOf } from "../../batches/close.ts";
import { openBench } from "../../batches/bench-day.ts";
import { canonicalJson } from "../../batches/record-canonical.ts";
import { exportRecord } from "../../batches/record-export.ts";
import { mismatchesOf } from "../../batches/record-matches.ts";
import { sheetOf } from "../../batches/record-sheet.ts";
import { WRITABLE, type Writable, readWriting } from "../../batches/record-writing.ts";
import { beginRecord, readRecord, tellRecord } from "../../batches/record.ts";
import { readForm } from "../../middleware.ts";
import { type RecordShown, batchRecordPage } from "../../pages/maker-batch-record.ts";
import type { Shop } from "../../ports.ts";
import { languageAsked, shopForBench } from "../../words/bench.ts";
import { textOf } from "../../typed/text.ts";
import { attachment } from "../attachment.ts";
import { makerPage } from "./page.ts";
import { type Signed, type SignedContext, ownersOnly } from "./visit.ts";

/** The record, begun from what is stored when the batch is older than it. */
export async function lookAtRecord(shop: Shop, c: SignedContext, number: string) {
  const batch = await batchOf(shop, c.get("shopId"), number);
  const visit = c.get("visit");
  await beginRecord(shop, batch, visit.name);
  const record = await readRecord(shop, batch);
  const mismatches = await mismatchesOf(batch, record.entries);
  const { today } = openBench(shop, c.get("owner"));
  return { batch, record, mismatches, today, isOwner: visit.role === "owner" };
}

export function batchRecordRoutes(shop: Shop) {
  const look = (c: SignedContext) => lookAtRecord(shop, c, c.req.param("number")!);

  async function show(c: SignedContext, shown: RecordShown): Promise<string> {
    const asked = languageAsked(c.req.query("language"));
    const model = batchRecordPage(shopForBench(c.get("owner"), asked), { ...shown, asked });
    return await makerPage(shop, c, "batches", "maker-batch-record", model);
  }

  async function write(c: SignedContext, kind: Writable) {
    const form = await readForm(c);
    const looked = await look(c);
    const { batch, record, today } = looked;
    const steps = sheetOf(record.entries).runs.map((run) => run.steps.map(({ title }) => title));
    const read = readWriting(kind, form, { batch, entries: record.entries, steps, today });
    if ("faults" in read) {
      const refused = { kind, form, faults: read.faults };
      return c.html(await show(c, { ...looked, refused }), 422);
    }
    const by = c.get("visit").name;
    const where = `/maker/batches/${batch.number}/record`;
    // Pressed twice, a form comes twice: what it says was written since it was shown.
    const seen = Number(textOf(form, "seen"));
    const says = canonicalJson({ kind, by, body: read.body });
    const isTwice = record.entries.some(
      (entry) =>
        entry.sequence > seen &&
        canonicalJson({ kind: entry.kind, by: entry.by, body: entry.body }) === says,
    );
    if (!isTwice) await tellRecord(shop, batch, { ...read, by });
    return c.redirect(`${where}#log`, 303);
  }

  const routes = new Hono<Signed>()
    .get("/:number/record", async (c) => c.html(await show(c, await look(c))))
    .get("/:number/record.json", async (c) => {
      const { batch, record } = await look(c);
      return c.body(exportRecord(batch, record.check, record.rows), 200, {
        "content-type": "application/json; charset=utf-8",
        "content-disposition": attachment(`batch-record-${batch.number}.json`),
      });
    });
  routes.use("/:number/record/release", ownersOnly);
  for (const kind of WRITABLE) routes.post(`/:number/record/${kind}`, (c) => write(c, kind));
  return routes;
}
