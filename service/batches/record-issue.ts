/**
 * A batch issued together with the first entry of its record.
 */
import type { Shop } from "../ports.ts";
import type { NewBatch } from "../storage/batches.ts";
import type { Move } from "../storage/orders.ts";
import { issuedBody } from "./record-told.ts";

/** Stands where nobody was signed in. */
const NOBODY = "not named";

/** @throws Conflict when the number is taken or an order has moved */
export async function issueRecorded(
  shop: Shop,
  batch: NewBatch,
  moves: readonly Move[],
): Promise<void> {
  const { shopId, personId, issuedAt: at } = batch;
  const person = personId ? await shop.people.byId(shopId, personId) : undefined;
  const body = await issuedBody(batch);
  const entry = { at, by: person?.name ?? NOBODY, kind: "issued" as const, body };
  await shop.batchRecord.writeWith(batch, [entry], (told) =>
    shop.batches.issue(batch, moves, told),
  );
}
