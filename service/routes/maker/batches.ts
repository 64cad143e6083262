/**
 * Batches: looked over, written, printed, set aside and taken up again. Bench and owner alike, so no money here.
 */
import { textOf, textsOf } from "../../typed/text.ts";
import { readForm } from "../../middleware.ts";
import { Hono } from "hono";
import { issueBatch } from "../../actions/issue-batch.ts";
import { openBench } from "../../batches/bench-day.ts";
import { addNote } from "../../batches/close.ts";
import { readClosing } from "../../batches/closing-shape.ts";
import { planOrders } from "../../batches/plan.ts";
import { decisionOn } from "../../batches/record.ts";
import { setBatchAside, takeBatchUp } from "../../batches/set-aside.ts";
import { renderBatchSheets } from "../../documents/batch-sheets.ts";
import { batchPage } from "../../pages/maker-batch.ts";
import { batchPlanPage, batchesPage } from "../../pages/maker-batches.ts";
import type { Shop } from "../../ports.ts";
import { closingRoutes } from "./batch-closing.ts";
import { batchRecordRoutes } from "./batch-record.ts";
import { correctionRoutes } from "./batch-correction.ts";
import { labelRoutes } from "./labels.ts";
import { netContentRoutes } from "./net-content.ts";
import { makerPage } from "./page.ts";
import { lookAtBatch, paperRoutes, sheetsOf } from "./papers.ts";
import type { Signed, SignedContext } from "./visit.ts";

const PAGE = 50;

export function batchRoutes(shop: Shop) {
  async function list(c: SignedContext) {
    const shopId = c.get("shopId");
    const [, issuedAt, number] = /^(\d{1,12})\.(.{1,40})$/.exec(c.req.query("before") ?? "") ?? [];
    const from = issuedAt && number ? { issuedAt: Number(issuedAt), number } : undefined;
    const rows = await shop.batches.page(shopId, PAGE + 1, from);
    const last = rows.length > PAGE ? rows[PAGE - 1] : undefined;
    const before = last ? `${last.issuedAt}.${last.number}` : "";
    const model = batchesPage(c.get("owner"), rows.slice(0, PAGE), before);
    return c.html(await makerPage(shop, c, "batches", "maker-batches", model));
  }

  async function show(c: SignedContext, number: string) {
    const { bench, sheets, ...looked } = await lookAtBatch(shop, c, number);
    const { batch } = looked;
    const decision = batch.state === "open" ? undefined : await decisionOn(shop, batch.id);
    const closing = batch.state === "made" ? readClosing(batch.closing) : undefined;
    const model = batchPage(bench.owner, { ...looked, runs: sheets.runs, closing, decision });
    return c.html(await makerPage(shop, c, "batches", "maker-batch", model));
  }

  return new Hono<Signed>()
    .get("/", list)
    .get("/new", async (c) => {
      const bench = openBench(shop, c.get("owner"));
      const plan = await planOrders(shop, bench, c.req.queries("order") ?? []);
      const model = batchPlanPage(bench.owner, plan);
      return c.html(await makerPage(shop, c, "batches", "maker-batch-new", model));
    })
    .post("/", async (c) => {
      const form = await readForm(c);
      const orderIds = textsOf(form, "order");
      const [owner, { personId }] = [c.get("owner"), c.get("visit")];
      const goShort = textOf(form, "short") === "go";
      const issued = await issueBatch(shop, owner, { orderIds, personId, goShort });
      if ("number" in issued) return c.redirect(`/maker/batches/${issued.number}`, 303);
      const fault = "The shelf has changed since you looked. Nothing was written yet.";
      const model = batchPlanPage(owner, issued.short, fault);
      return c.html(await makerPage(shop, c, "batches", "maker-batch-new", model), 422);
    })
    .route("/", closingRoutes(shop))
    .route("/", batchRecordRoutes(shop))
    .route("/", netContentRoutes(shop))
    .route("/", correctionRoutes(shop))
    .route("/", labelRoutes(shop))
    .route("/", paperRoutes(shop))
    .get("/:number", (c) => show(c, c.req.param("number")))
    .get("/:number/sheets", async (c) => {
      const { runs, page, lots } = await sheetsOf(shop, c, c.req.param("number"));
      return c.html(renderBatchSheets(runs, page, lots));
    })
    .post("/:number/set-aside", async (c) => {
      const number = c.req.param("number");
      await setBatchAside(shop, c.get("shopId"), number, c.get("visit"));
      return c.redirect(`/maker/batches/${number}`, 303);
    })
    .post("/:number/take-up", async (c) => {
      const number = c.req.param("number");
      await takeBatchUp(shop, c.get("shopId"), number, c.get("visit"));
      return c.redirect(`/maker/batches/${number}`, 303);
    })
    .post("/:number/notes", async (c) => {
      const number = c.req.param("number");
      const words = textOf(await readForm(c), "words");
      await addNote(shop, c.get("shopId"), number, words, c.get("visit"));
      return c.redirect(`/maker/batches/${number}#notes`, 303);
    });
}
