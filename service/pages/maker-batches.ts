/**
 * Batches, the latest first; and a batch looked over before it begins.
 */
import type { BatchPlan, Need } from "../batches/plan.ts";
import { bulkMgOf } from "../batches/sheets.ts";
import type { Batches } from "../storage/batches.ts";
import type { ShopRow } from "../storage/shops.ts";
import { countWords } from "../words/count-words.ts";
import { capital } from "../words/capital.ts";
import { blendWords, gramsIn, jarsOf, momentIn, titleOf } from "./maker-pages.ts";

type ListedBatch = Awaited<ReturnType<Batches["page"]>>[number];

/** @param before where the next page begins; empty on the last */
export function batchesPage(shop: ShopRow, batches: readonly ListedBatch[], before: string) {
  const when = momentIn(shop);
  return {
    title: "Batches",
    before,
    batches: batches.map(({ number, state, kind, issuedAt, orders }) => ({
      number,
      state: state === "set-aside" ? "set aside" : state === "open" ? "on the bench" : "made",
      open: state === "open",
      made: kind === "trial" ? "a trial" : countWords(orders, "order"),
      issued: when(issuedAt),
    })),
  };
}

/** What a batch would take, before anything is stored. @param fault why it was not written just now */
export function batchPlanPage(shop: ShopRow, plan: BatchPlan, fault = "") {
  const grams = gramsIn(shop);
  const { short, couldWait } = plan;
  const wait = new Set(couldWait.map(({ order }) => order.id));
  return {
    title: "Look the batch over",
    fault,
    jars: plan.runs.reduce((sum, { workOrder }) => sum + workOrder.jarCount, 0),
    base: titleOf(plan.orders[0]!.quote),
    orders: plan.orders.map(({ order }) => ({ id: order.id })),
    runs: plan.runs.map((run, at) => ({
      run: at + 1,
      blend: blendWords(run.group.quote),
      bulk: grams(bulkMgOf(run)),
      loads: run.loads > 1 ? `${run.loads} loads of the vessel` : "one load",
      orders: run.group.orders.map(({ order, quote }) => ({
        reference: order.reference,
        jars: jarsOf(quote),
      })),
    })),
    several: plan.runs.length > 1,
    needs: plan.needs.map((need) => needRow(need, grams)),
    sum: grams(plan.needs.reduce((sum, { needMg }) => sum + needMg, 0)),
    unkept: plan.needs.some(({ isKept }) => !isKept),
    short: short.map(({ name, needMg, shortMg }) => ({
      name,
      need: grams(needMg),
      have: grams(needMg - shortMg),
      missing: grams(shortMg),
    })),
    couldWait: couldWait.map(({ order, quote }) => ({
      reference: order.reference,
      jars: jarsOf(quote),
    })),
    rest:
      couldWait.length === 0
        ? []
        : plan.orders
            .filter(({ order }) => !wait.has(order.id))
            .map(({ order }) => ({ id: order.id })),
  };
}

function needRow(need: Need, grams: (mg: number) => string) {
  const lots = need.portions.map(
    ({ lot, takeMg }) =>
      `${lot.code}: ${grams(takeMg)}${lot.bestBefore === null ? "" : `, best before ${lot.bestBefore}`}`,
  );
  const state = !need.isKept
    ? "no lots kept"
    : need.shortMg > 0
      ? `short by ${grams(need.shortMg)}`
      : "enough";
  return {
    name: need.name,
    need: grams(need.needMg),
    lots,
    short: need.isKept && need.shortMg > 0,
    state: capital(state),
  };
}
