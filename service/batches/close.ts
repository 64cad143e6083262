/**
 * The end of a batch: weights, lots, stock and orders stored together or not at all; and what may come after.
 */
import type { Shop } from "../ports.ts";
import { Refusal } from "../problem.ts";
import { Conflict, StockShort } from "../storage/database.ts";
import type { BatchRow } from "../storage/batches.ts";
import type { ShopRow } from "../storage/shops.ts";
import type { LotRow } from "../storage/stock.ts";
import { NOTE_LONGEST, lengthFault } from "../typed/length.ts";
import { type Bench, openBench } from "./bench-day.ts";
import type { ClosingFields } from "./closing-fields.ts";
import { type BatchClosing, readClosing } from "./closing-shape.ts";
import { type OrderWithQuote, withQuote } from "./groups.ts";
import { readClosingForm, usedByLot } from "./read-closing.ts";
import { closedBody } from "./record-told.ts";
import { recordWith } from "./record.ts";
import { type BatchRun, linesOf, readSheets } from "./sheets.ts";

/** A batch with what its closing form is filled from. */
export interface OpenBatch {
  readonly batch: BatchRow;
  readonly runs: readonly BatchRun[];
  readonly bench: Bench;
  readonly members: readonly OrderWithQuote[];
  readonly lots: readonly LotRow[];
}

export interface Hand {
  readonly personId: string | null;
  readonly name: string;
}

/** @throws Refusal make.batch.unknown */
export async function batchOf(shop: Shop, shopId: string, number: string): Promise<BatchRow> {
  const batch = await shop.batches.byNumber(shopId, number);
  if (!batch) throw new Refusal("make.batch.unknown", `There is no batch ${number}.`);
  return batch;
}

/** Read what a batch is closed from. @throws Refusal make.batch.unknown */
export async function openBatch(shop: Shop, owner: ShopRow, number: string): Promise<OpenBatch> {
  const bench = openBench(shop, owner);
  const { shopId } = bench;
  const batch = await batchOf(shop, shopId, number);
  const { runs } = readSheets(batch.workOrder);
  const ingredients = [...new Set(runs.flatMap(linesOf).map(({ ingredient }) => ingredient))];
  const [members, lots] = await Promise.all([
    shop.orders.ofBatch(batch.id),
    shop.batchLots.onHand(shopId, ingredients),
  ]);
  const inMaking = members
    .filter(({ state }) => state === "in-making")
    .map((row) => withQuote(row));
  return { batch, runs, bench, members: inMaking, lots };
}

export type Closed =
  | { readonly closed: true }
  | {
      readonly closed: false;
      /** Whether somebody else was at work meanwhile; otherwise it is what was typed. */
      readonly isOvertaken: boolean;
      readonly faults: readonly string[];
    };

/** Close a batch with what was typed; nothing is stored unless all of it is. */
export async function closeBatch(
  shop: Shop,
  open: OpenBatch,
  fields: ClosingFields,
  hand: Hand,
): Promise<Closed> {
  const { batch, bench } = open;
  if (batch.state !== "open")
    return { closed: false, isOvertaken: true, faults: [overWords(batch)] };
  const read = readClosingForm(fields, { ...open, today: bench.today });
  if ("faults" in read) return { closed: false, isOvertaken: false, faults: read.faults };
  const { closing } = read;
  const madeIds = open.members
    .filter(({ order }) => fields.filled.includes(order.id))
    .map(({ order }) => order.id);
  const backIds = open.members.map(({ order }) => order.id).filter((id) => !madeIds.includes(id));
  const at = bench.now;
  const end = {
    ...{ batchId: batch.id, closing: JSON.stringify(closing), at, personId: hand.personId },
    ...{ madeIds, backIds },
    saysMade: `batch ${batch.number} made`,
    saysBack: `not filled whole in batch ${batch.number}, waits to be made again`,
  };
  const origins = new Map(open.lots.map((lot) => [lot.id, lot]));
  const body = await closedBody(end.closing, origins);
  const stock = stockStatements(shop, batch, closing, at, hand.personId);
  try {
    await recordWith(shop, batch, { kind: "closed", by: hand.name, body }, (told) =>
      shop.batches.close(end, [...stock, ...told]),
    );
    return { closed: true };
  } catch (error) {
    if (error instanceof StockShort) {
      // Somebody took from a lot since it was read: say which, from what is there now.
      const again = await openBatch(shop, bench.owner, batch.number);
      const now = readClosingForm(fields, { ...again, today: bench.today });
      const faults =
        "faults" in now ? now.faults : ["A lot was just used elsewhere. Look again at the lots."];
      return { closed: false, isOvertaken: true, faults };
    }
    if (!(error instanceof Conflict)) throw error;
    const now = await batchOf(shop, bench.shopId, batch.number);
    return { closed: false, isOvertaken: true, faults: [overWords(now)] };
  }
}

function stockStatements(
  shop: Shop,
  { id: batchId, number }: BatchRow,
  { runs }: BatchClosing,
  at: number,
  personId: string | null,
) {
  const rows = runs.flatMap(({ lines }, run) =>
    lines.flatMap(({ ingredient: ingredientId, portions }) =>
      portions.flatMap(({ lotId, usedMg }) =>
        lotId === null ? [] : [{ batchId, run, ingredientId, lotId, usedMg }],
      ),
    ),
  );
  const movements = [...usedByLot(runs)].flatMap(([lotId, usedMg]) =>
    shop.stock.movementStatements({
      ...{ lotId, deltaMg: -usedMg, why: "batch", batchId, personId, at },
      note: `batch ${number}`,
    }),
  );
  return [...shop.batchLots.usedStatements(rows), ...movements];
}

function overWords({ number, state }: BatchRow): string {
  if (state === "made") {
    return (
      `Batch ${number} has been closed already, and what was recorded then stands. ` +
      "Nothing was stored now. What differs can be added as a note on the batch’s page."
    );
  }
  if (state === "set-aside") {
    return `Batch ${number} was set aside. Nothing was stored. Take it up again first.`;
  }
  return `An order of batch ${number} has just changed. Nothing was stored: please look again.`;
}

/**
 * Add a note to a closed batch, the only way in which it can be corrected.
 * @throws Refusal make.batch.refused, order.state.conflict
 */
export async function addNote(
  shop: Shop,
  shopId: string,
  number: string,
  words: string,
  hand: Hand,
): Promise<void> {
  const batch = await batchOf(shop, shopId, number);
  const closing = batch.state === "made" ? readClosing(batch.closing) : undefined;
  if (!closing || batch.closing === null) {
    throw new Refusal("make.batch.refused", "A note is added once the batch is closed.");
  }
  const against =
    words === "" ? "Write a note first." : lengthFault("the note", words, NOTE_LONGEST);
  if (against) throw new Refusal("make.batch.refused", against);
  const added = [...closing.added, { at: shop.clock.seconds(), by: hand.name, words }];
  const amended = JSON.stringify({ ...closing, added });
  const before = batch.closing;
  try {
    const told = { kind: "closing-amended" as const, by: hand.name, body: { words } };
    await recordWith(shop, batch, told, (also) =>
      shop.batches.amend(batch.id, before, amended, also),
    );
  } catch (error) {
    if (!(error instanceof Conflict)) throw error;
    throw new Refusal(
      "order.state.conflict",
      "Somebody added a note at the same moment. Go back, and send yours again.",
    );
  }
}
