/**
 * The closing of a batch: one form, stored whole or not at all.
 */
import { readForm } from "../../middleware.ts";
import { Hono } from "hono";
import { allotLots } from "../../batches/allot.ts";
import { type OpenBatch, closeBatch, openBatch } from "../../batches/close.ts";
import {
  type ClosingFields,
  closingFieldsOf,
  closingOnTarget,
} from "../../batches/closing-fields.ts";
import { needsOf } from "../../batches/plan.ts";
import { closeBatchPage } from "../../pages/maker-batch-close.ts";
import type { Shop } from "../../ports.ts";
import { makerPage } from "./page.ts";
import type { Signed, SignedContext } from "./visit.ts";

export function closingRoutes(shop: Shop) {
  async function show(
    c: SignedContext,
    open: OpenBatch,
    fields: ClosingFields,
    faults: readonly string[] = [],
  ) {
    const model = closeBatchPage(open.bench.owner, open, fields, faults);
    return await makerPage(shop, c, "batches", "maker-batch-close", model);
  }

  return new Hono<Signed>()
    .get("/:number/close", async (c) => {
      const number = c.req.param("number");
      const open = await openBatch(shop, c.get("owner"), number);
      if (open.batch.state !== "open") return c.redirect(`/maker/batches/${number}`, 303);
      const { runs, members, bench } = open;
      const allotted = allotLots(runs, await needsOf(shop, bench, runs));
      const ids = members.map(({ order }) => order.id);
      const fields = closingOnTarget(runs, allotted, ids, bench.particulars.scaleStepMg);
      return c.html(await show(c, open, fields));
    })
    .post("/:number/close", async (c) => {
      const number = c.req.param("number");
      const open = await openBatch(shop, c.get("owner"), number);
      const fields = closingFieldsOf(await readForm(c), open.runs);
      const end = await closeBatch(shop, open, fields, c.get("visit"));
      if (end.closed) return c.redirect(`/maker/batches/${number}`, 303);
      // Somebody else was at work: what stands on the shelf now is what to choose from.
      const now = end.isOvertaken ? await openBatch(shop, c.get("owner"), number) : open;
      return c.html(await show(c, now, fields, end.faults), end.isOvertaken ? 409 : 422);
    });
}
