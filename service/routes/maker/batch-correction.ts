/**
 * The correction of a run for its lots: looked at, accepted, taken back. Bench and owner alike; costs are the owner's.
 */
import { Hono } from "hono";
import { type Bench, openBench } from "../../batches/bench-day.ts";
import { batchOf } from "../../batches/close.ts";
import {
  acceptCorrection,
  isStarted,
  takeCorrectionBack,
} from "../../batches/correction-accept.ts";
import {
  type ChosenLots,
  type LineLots,
  chosenFrom,
  lotsThatKeep,
  lotsToChoose,
} from "../../batches/correction-choices.ts";
import { costChange } from "../../batches/correction-cost.ts";
import { type Correction, correctionOf } from "../../batches/correction.ts";
import { readSheets } from "../../batches/sheets.ts";
import { readForm } from "../../middleware.ts";
import { correctionPage } from "../../pages/maker-batch-correction.ts";
import type { Shop } from "../../ports.ts";
import { Refusal } from "../../problem.ts";
import type { BatchRow } from "../../storage/batches.ts";
import { textOf, textsOf } from "../../typed/text.ts";
import { makerPage } from "./page.ts";
import type { Signed, SignedContext } from "./visit.ts";

const CHANGED =
  "The shelf gives other lots than when you looked, so the proposal is another one. Look at it as it is now.";

interface Looked {
  readonly bench: Bench;
  readonly batch: BatchRow;
  readonly correction: Correction;
  readonly lines: readonly LineLots[];
  readonly refused: ChosenLots["refused"];
}

export function correctionRoutes(shop: Shop) {
  /** The run, with the lots that were asked for where they can be taken. */
  async function look(c: SignedContext, lotIds: readonly string[]): Promise<Looked> {
    const bench = openBench(shop, c.get("owner"));
    const batch = await batchOf(shop, bench.shopId, c.req.param("number") ?? "");
    const { runs } = readSheets(batch.workOrder);
    const at = runOf(c);
    const looked = { batch, runs, members: await shop.orders.ofBatch(batch.id) };
    const run = runs[at];
    if (!run) throw new Refusal("make.batch.unknown", `Batch ${batch.number} has no such run.`);
    const lines = await lotsToChoose(shop, bench, run);
    const { chosen, refused } = chosenFrom(lines, lotIds);
    const correction = await correctionOf(shop, bench, looked, at, chosen);
    return { bench, batch, correction, lines, refused };
  }

  async function page(c: SignedContext, looked: Looked, fault = ""): Promise<string> {
    const { bench, batch, correction, lines, refused } = looked;
    const { answer, ground, run } = correction;
    const isOwner = c.get("visit").role === "owner";
    const asks =
      run.correction === undefined && (answer.kind === "shift" || answer.kind === "none");
    const cost =
      isOwner && answer.kind === "shift" && ground
        ? await costChange(shop, bench.shopId, ground, run, answer.sheet)
        : undefined;
    const model = correctionPage(bench.owner, {
      ...{ batch, correction, lines, refused, cost, fault },
      isStarted: await isStarted(shop, batch.id),
      several: readSheets(batch.workOrder).runs.length > 1,
      others: asks ? lotsThatKeep(correction, lines) : [],
    });
    return await makerPage(shop, c, "batches", "maker-batch-correction", model);
  }

  return new Hono<Signed>()
    .get("/:number/correction/:run", async (c) =>
      c.html(await page(c, await look(c, c.req.queries("lot") ?? []))),
    )
    .post("/:number/correction/:run", async (c) => {
      const form = await readForm(c);
      const looked = await look(c, textsOf(form, "lot"));
      const { batch, correction } = looked;
      const seen = textOf(form, "seen");
      const isStored = await acceptCorrection(shop, batch, correction, seen, c.get("visit"));
      if (isStored) return c.redirect(`/maker/batches/${batch.number}`, 303);
      return c.html(await page(c, looked, CHANGED), 409);
    })
    .post("/:number/correction/:run/take-back", async (c) => {
      const batch = await batchOf(shop, c.get("shopId"), c.req.param("number"));
      await takeCorrectionBack(shop, batch, runOf(c), c.get("visit"));
      return c.redirect(`/maker/batches/${batch.number}`, 303);
    });
}

/** Runs are counted from 1 in addresses and from 0 in what is stored. */
function runOf(c: SignedContext): number {
  const run = c.req.param("run") ?? "";
  if (/^[1-9]\d{0,2}$/.test(run)) return Number(run) - 1;
  throw new Refusal("make.batch.unknown", `There is no run “${run.slice(0, 20)}”.`);
}
