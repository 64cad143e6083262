/**
 * Paid orders -> a batch with its work order, stored together or not at all.
 */
import { openBench } from "../batches/bench-day.ts";
import { type BatchPlan, planOrders } from "../batches/plan.ts";
import { issueRecorded } from "../batches/record-issue.ts";
import type { BatchSheets } from "../batches/sheets.ts";
import type { Shop } from "../ports.ts";
import { Refusal } from "../problem.ts";
import { Conflict } from "../storage/database.ts";
import type { ShopRow } from "../storage/shops.ts";

interface BatchRequest {
  readonly orderIds: readonly string[];
  readonly personId: string | null;
  /** The maker has seen that the shelf is short and will fetch what is missing. */
  readonly goShort: boolean;
}

/**
 * Issue a batch for paid orders of one base.
 * @returns its number; or the plan, when the shelf is short and nobody has said to go on, and nothing is stored
 * @throws Refusal make.batch.refused when they are no longer all paid, differ in base, or cannot be weighed
 */
export async function issueBatch(
  shop: Shop,
  owner: ShopRow,
  request: BatchRequest,
): Promise<{ readonly number: string } | { readonly short: BatchPlan }> {
  const { orderIds, personId, goShort } = request;
  const bench = openBench(shop, owner);
  const plan = await planOrders(shop, bench, orderIds);
  if (plan.short.length > 0 && !goShort) return { short: plan };
  const { number } = plan;
  const sheets: BatchSheets = { runs: plan.runs.map(({ group: _, ...run }) => run) };
  const batch = {
    id: shop.numbers.id(),
    shopId: bench.shopId,
    number,
    state: "open" as const,
    workOrder: JSON.stringify(sheets),
    issuedAt: bench.now,
    personId,
  };
  const moves = plan.runs.flatMap(({ group }, batchRun) =>
    group.orders.map(({ order }) => ({
      orderId: order.id,
      to: "in-making" as const,
      at: batch.issuedAt,
      who: "maker" as const,
      what: `batch ${number}`,
      with: { batchId: batch.id, batchRun },
    })),
  );
  try {
    await issueRecorded(shop, batch, moves);
  } catch (error) {
    if (!(error instanceof Conflict)) throw error;
    // Somebody else at the bench was given the same number a moment ago; the next one is free.
    if (await shop.batches.byNumber(bench.shopId, number)) return issueBatch(shop, owner, request);
    throw new Refusal(
      "order.state.conflict",
      "One of these orders has just changed. Nothing was stored; please look and try again.",
    );
  }
  return { number };
}
