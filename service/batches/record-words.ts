/**
 * What is said of a record that does not fit, and what that means.
 */
import type { ChainCheck } from "./record-chain.ts";
import type { Mismatch } from "./record-matches.ts";

/** A sentence for one link of the chain. */
export function faultWords({ sequence, fault }: ChainCheck["faults"][number]): string {
  return {
    altered: `Entry ${sequence} was altered after it was written: its words do not give its hash.`,
    "not-linked": `Entry ${sequence} was written after another entry than the one that stands before it now: that one was replaced.`,
    "missing-before": `Before entry ${sequence} something is missing: an entry was taken out, or their order was changed.`,
    unreadable: `Entry ${sequence} cannot be read: it was altered after it was written.`,
  }[fault];
}

/** A sentence for what is stored beside the record. */
export function mismatchWords(mismatch: Mismatch): string {
  return {
    "work-order":
      "The stored work order is another than the one this record tells of. What stands here is what was written then.",
    closing:
      "The stored closing of the batch is another than the one this record tells of, or one of the two is missing.",
    state:
      "The batch has gone further than its record tells: entries are missing at its end, or the batch was changed past it.",
  }[mismatch];
}
