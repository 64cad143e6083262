/**
 * A batch set aside before anything was weighed: its orders wait again, and it can be taken up while they do.
 */
import type { Shop } from "../ports.ts";
import { Refusal } from "../problem.ts";
import { Conflict } from "../storage/database.ts";
import { type Hand, batchOf } from "./close.ts";
import { SetAsideShape } from "./closing-shape.ts";
import { recordWith } from "./record.ts";

/** @throws Refusal make.batch.unknown, order.state.conflict */
export async function setBatchAside(
  shop: Shop,
  shopId: string,
  number: string,
  { name: by }: Pick<Hand, "name">,
): Promise<void> {
  const batch = await batchOf(shop, shopId, number);
  const at = shop.clock.seconds();
  const members = (await shop.orders.ofBatch(batch.id)).filter(
    ({ state }) => state === "in-making",
  );
  const orders = members.map(({ id, batchRun }) => ({ id, run: batchRun ?? 0 }));
  const says = `batch ${number} set aside, waits to be made`;
  const closing = JSON.stringify({ setAside: { at, orders } });
  const ids = orders.map(({ id }) => id);
  const body = { orders: members.map(({ reference }) => reference) };
  const change = recordWith(shop, batch, { kind: "set-aside", by, body }, (also) =>
    shop.batches.setAside(batch.id, ids, { closing, at, says }, also),
  );
  await told(change, () => [
    `Batch ${number} is not on the bench any more, or one of its orders has just changed.`,
    "Nothing was changed: please look again.",
  ]);
}

/** Take it up again, with the same orders. @throws Refusal make.batch.unknown, order.state.conflict */
export async function takeBatchUp(
  shop: Shop,
  shopId: string,
  number: string,
  { name: by }: Pick<Hand, "name">,
): Promise<void> {
  const batch = await batchOf(shop, shopId, number);
  const kept = SetAsideShape.safeParse(JSON.parse(batch.closing ?? "null"));
  if (batch.state !== "set-aside" || !kept.success) {
    throw new Refusal("order.state.conflict", `Batch ${number} is not set aside.`);
  }
  const at = shop.clock.seconds();
  const { orders } = kept.data.setAside;
  const moves = orders.map(({ id, run }) => ({
    ...{ orderId: id, to: "in-making" as const, at, who: "maker" as const },
    what: `batch ${number} taken up again`,
    with: { batchId: batch.id, batchRun: run },
  }));
  const ids = orders.map(({ id }) => id);
  const members = await shop.orders.byIds(shopId, ids);
  const body = { orders: members.map(({ reference }) => reference) };
  const change = recordWith(shop, batch, { kind: "taken-up", by, body }, (also) =>
    shop.batches.takeUp(batch.id, moves, also),
  );
  await told(change, () => [
    `An order of batch ${number} is in another batch by now, or is not to be made any more.`,
    "So it stays set aside; put a new batch together from what waits.",
  ]);
}

async function told(change: Promise<void>, words: () => readonly string[]): Promise<void> {
  try {
    await change;
  } catch (error) {
    if (!(error instanceof Conflict)) throw error;
    throw new Refusal("order.state.conflict", words().join(" "));
  }
}
