/**
 * What is printed of a batch, as files: work order, labels and record as PDF, from the same models as their pages.
 */
import { Hono } from "hono";
import type { PaperId } from "#core/make/label-sheet.ts";
import { labelMarket } from "#data/library/label-markets.ts";
import { allotLots } from "../../batches/allot.ts";
import { type Bench, openBench } from "../../batches/bench-day.ts";
import { batchOf } from "../../batches/close.ts";
import { judgeRuns } from "../../batches/correction.ts";
import type { PaperKind } from "../../batches/label-prints.ts";
import { needsOf } from "../../batches/plan.ts";
import { editionOf, readSheets } from "../../batches/sheets.ts";
import { type DocumentPage, sheetsModel } from "../../documents/batch-sheets.ts";
import { labelSettingsOf } from "../../documents/label-settings.ts";
import { labelsOfPrint } from "../../documents/label-document.ts";
import type { Canvas } from "../../documents/pdf/canvas.ts";
import { type Drawings, writePdf } from "../../documents/pdf/file.ts";
import { drawLabels } from "../../documents/pdf/labels.ts";
import { drawRecord } from "../../documents/pdf/record.ts";
import { drawWorkOrder } from "../../documents/pdf/work-order.ts";
import { sheetNotes } from "../../documents/sheet-notes.ts";
import { correctionNotes } from "../../pages/maker-batch-correction-note.ts";
import { batchRecordPage } from "../../pages/maker-batch-record.ts";
import { isContested } from "../../pages/maker-batch.ts";
import { languagesOf, pdfsOf } from "../../pages/paper-links.ts";
import type { Shop } from "../../ports.ts";
import { languageAsked, shopForBench } from "../../words/bench.ts";
import { sayIn } from "../../words/speak.ts";
import { attachment } from "../attachment.ts";
import { lookAtRecord } from "./batch-record.ts";
import { footOfPrint, printOf } from "./labels.ts";
import type { Signed, SignedContext } from "./visit.ts";

/** A batch with its orders; while it is open, with the lots suggested for it now and what is said of them. */
export async function lookAtBatch(shop: Shop, c: SignedContext, number: string) {
  const bench = openBench(shop, c.get("owner"));
  const batch = await batchOf(shop, bench.shopId, number);
  const sheets = readSheets(batch.workOrder);
  const { runs } = sheets;
  const [members, needs] = await Promise.all([
    shop.orders.ofBatch(batch.id),
    batch.state === "open" ? needsOf(shop, bench, runs) : [],
  ]);
  const verdicts = await judgeRuns(shop, bench, { batch, runs, members, needs });
  const lotNotes = correctionNotes(bench.owner, number, sheets, verdicts);
  return { bench, batch, sheets, members, needs, verdicts, lotNotes };
}

/** What the sheets of a batch are written from. */
export async function sheetsOf(shop: Shop, c: SignedContext, number: string) {
  const looked = await lookAtBatch(shop, c, number);
  const { bench, batch, sheets, members, needs, verdicts } = looked;
  const { runs } = sheets;
  const asked = languageAsked(c.req.query("language"));
  const owner = shopForBench(bench.owner, asked);
  const href = `/maker/batches/${number}/sheets`;
  const page: DocumentPage = {
    lotNotes: sheetNotes(owner, runs, verdicts),
    edition: editionOf(sheets),
    contested: members
      .filter(isContested)
      .map(({ reference }) => reference)
      .join(", "),
    stylesheets: ["/assets/print.css"],
    locale: owner.locale,
    ounces: saysOunces(bench),
    practice: shop.till.kind === "practice" && batch.kind === "orders",
    batchUrl: new URL(`/maker/batches/${number}`, shop.url).href,
    backHref: `/maker/batches/${number}`,
    pdfs: pdfsOf(href, asked),
    languages: languagesOf(href, owner.locale),
  };
  return { runs, page, lots: needs.length > 0 ? allotLots(runs, needs) : [] };
}

/** Whether a market of the shop has ounces on its labels. */
function saysOunces({ particulars, owner }: Bench): boolean {
  const { markets } = labelSettingsOf(particulars, owner.locale);
  return markets.some(({ id }) => labelMarket(id)?.content === "ounces-and-grams");
}

export function paperRoutes(shop: Shop) {
  async function send(
    c: SignedContext,
    pages: readonly Canvas[],
    [title, name]: readonly [title: string, name: string],
    drawings?: Drawings,
  ) {
    const about = { title, author: c.get("owner").name, at: shop.clock.seconds() };
    return c.body(await writePdf(shop, pages, about, drawings), 200, {
      "content-type": "application/pdf",
      "content-disposition": attachment(`${name}.pdf`),
    });
  }

  return new Hono<Signed>()
    .get("/:number/:file{sheets-(a4|letter)\\.pdf}", async (c) => {
      const number = c.req.param("number");
      const paper = paperOf(c.req.param("file"));
      const { runs, page, lots } = await sheetsOf(shop, c, number);
      const { pages, drawings } = drawWorkOrder(sheetsModel(runs, page, lots), paper);
      const title = sayIn(page.locale, "sheet.title", { number });
      return await send(c, pages, [title, `work-order-${number}-${paper}`], drawings);
    })
    .get("/:number/:file{record-(a4|letter)\\.pdf}", async (c) => {
      const number = c.req.param("number");
      const paper = paperOf(c.req.param("file"));
      const owner = shopForBench(c.get("owner"), languageAsked(c.req.query("language")));
      const model = batchRecordPage(owner, await lookAtRecord(shop, c, number));
      const name = `batch-record-${number}-${paper}`;
      return await send(c, drawRecord(model, paper), [model.title, name]);
    })
    .get("/:number/labels/printed/:sequence/labels.pdf", async (c) => {
      const { number, sequence } = c.req.param();
      const { desk, print, choice } = await printOf(shop, c, number, sequence);
      const labels = labelsOfPrint(desk, choice, print);
      const foot = footOfPrint(c, print, number);
      const { pages, drawings } = drawLabels(labels, print.paper as PaperKind, foot);
      const names = [`Labels of batch ${number}`, `labels-${number}-${sequence}`] as const;
      return await send(c, pages, names, drawings);
    });
}

function paperOf(file: string): PaperId {
  return file.endsWith("-letter.pdf") ? "letter" : "a4";
}
