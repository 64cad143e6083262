/**
 * What the record of a batch is told of the batch itself: as it was issued, and as it was closed.
 */
import type { BatchRow } from "../storage/batches.ts";
import { type BatchClosing, type ClosedLine, readClosing } from "./closing-shape.ts";
import { sha256 } from "../sha256.ts";
import type { BodyOf, ClosedBody, Issued } from "./record-shapes.ts";
import { recordedTitle } from "./record-recorded.ts";
import { type BatchRun, linesOf, readSheets } from "./sheets.ts";

/** Where a lot came from, by its id. */
export type LotOrigins = ReadonlyMap<
  string,
  { readonly supplier: string; readonly bestBefore: string | null }
>;

/** A batch as it was issued, with the hash of its stored work order. */
export async function issuedBody(
  batch: Pick<BatchRow, "number" | "workOrder"> & { readonly kind?: BatchRow["kind"] | undefined },
): Promise<Issued> {
  const { number, workOrder, kind = "orders" } = batch;
  return {
    ...{ batch: number, kind },
    workOrderHash: await sha256(workOrder),
    runs: readSheets(workOrder).runs.map(issuedRun),
  };
}

function issuedRun(run: BatchRun): Issued["runs"][number] {
  const { workOrder, loads } = run;
  const { celsius, settled, lowest, highest } = workOrder.promise;
  return {
    product: workOrder.productName,
    base: workOrder.baseName,
    madeOn: workOrder.madeOnISO,
    lossShare: workOrder.lossShare,
    loads,
    fillMg: Math.round(Number(workOrder.yieldG) * 1000),
    lines: linesOf(run).map(({ ingredient, name, inci, share, targetMg }) => ({
      ...{ ingredient, name, inci, share, targetMg },
    })),
    jars: workOrder.jars.map(({ reference, jarName, fillG, quantity }) => ({
      ...{ reference, jarName, fillG, quantity },
    })),
    steps: workOrder.steps.map(({ id, celsius: at, minutes }) => ({
      title: recordedTitle(id),
      ...(at ? { celsius: at } : {}),
      ...(minutes ? { minutes } : {}),
    })),
    promise: { celsius, settled, lowest, highest },
    ...(workOrder.density ? { density: workOrder.density } : {}),
  };
}

/** @param stored the closing as JSON, as it stands in the batch’s row */
export async function closedBody(stored: string, origins: LotOrigins): Promise<ClosedBody> {
  const { runs, shortOrders, note } = readClosing(stored)!;
  return {
    closingHash: await closingHash(stored),
    runs: runs.map(({ lines, ...run }) => ({
      ...run,
      lines: lines.map((line) => closedLine(line, origins)),
    })),
    ...{ shortOrders, note },
  };
}

/** Hash of a closing apart from the notes that are added to it after. */
export async function closingHash(stored: string): Promise<string> {
  const closing: BatchClosing = { ...readClosing(stored)!, added: [] };
  return await sha256(JSON.stringify(closing));
}

function closedLine(
  { ingredient, name, targetMg, portions, why }: ClosedLine,
  origins: LotOrigins,
): ClosedBody["runs"][number]["lines"][number] {
  return {
    ...{ ingredient, name, targetMg, why },
    lots: portions.map(({ lotId, code, usedMg }) => {
      const origin = lotId === null ? undefined : origins.get(lotId);
      return {
        ...{ code, usedMg },
        supplier: origin?.supplier ?? "",
        bestBefore: origin?.bestBefore ?? null,
      };
    }),
  };
}

/** A batch from before its record was kept, as it is stored. */
export async function takenOverBody(
  batch: BatchRow,
  origins: LotOrigins,
): Promise<BodyOf<"taken-over">> {
  const closing = batch.state === "made" ? batch.closing : null;
  return {
    issuedAt: batch.issuedAt,
    issued: await issuedBody(batch),
    state: batch.state,
    closedAt: batch.closedAt,
    closed: closing === null ? null : await closedBody(closing, origins),
    notes: readClosing(closing)?.added ?? [],
  };
}
