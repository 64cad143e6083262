/**
 * Whether a batch is still stored as its record tells it. The chain alone would not show a batch changed beside it.
 */
import type { BatchRow } from "../storage/batches.ts";
import { sha256 } from "../sha256.ts";
import type { ReadEntry } from "./record-shapes.ts";
import { closingHash } from "./record-told.ts";

export type Mismatch =
  /** The stored work order is another than the one the record tells of. */
  | "work-order"
  /** The stored closing is another, or one of the two is missing. */
  | "closing"
  /** Entries are missing at the end: the batch has gone further than its record. */
  | "state";

/** @returns what does not fit, nothing when all does */
export async function mismatchesOf(
  { state, workOrder, closing }: BatchRow,
  entries: readonly ReadEntry[],
): Promise<Mismatch[]> {
  const told = { workOrderHash: "", closingHash: "", state: "" };
  for (const { kind, body } of entries) {
    if (kind === "issued") told.workOrderHash = body.workOrderHash;
    if (kind === "lot-correction") told.workOrderHash = body.issued.workOrderHash;
    if (kind === "closed") told.closingHash = body.closingHash;
    if (kind === "taken-over") {
      told.workOrderHash = body.issued.workOrderHash;
      told.closingHash = body.closed?.closingHash ?? "";
      told.state = body.state;
    }
    told.state = STATE_AFTER[kind as keyof typeof STATE_AFTER] ?? told.state;
  }
  const stored = state === "made" && closing !== null ? await closingHash(closing) : "";
  return [
    ...((await sha256(workOrder)) === told.workOrderHash ? [] : ["work-order" as const]),
    ...(stored === told.closingHash ? [] : ["closing" as const]),
    ...(state === told.state ? [] : ["state" as const]),
  ];
}

const STATE_AFTER = {
  issued: "open",
  "set-aside": "set-aside",
  "taken-up": "open",
  closed: "made",
} as const;
