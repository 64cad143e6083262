/**
 * What is said of a record that does not fit, and what that means.
 */
import { sayIn } from "../words/speak.ts";
import type { ChainCheck } from "./record-chain.ts";
import type { Mismatch } from "./record-matches.ts";

/** The command line speaks English. */
const ENGLISH = "en";

/** A sentence for one link of the chain. */
export function faultWords(
  { sequence, fault }: ChainCheck["faults"][number],
  locale = ENGLISH,
): string {
  return sayIn(locale, `record.fault-${fault}`, { place: sequence });
}

/** A sentence for what is stored beside the record. */
export function mismatchWords(mismatch: Mismatch, locale: string): string {
  return sayIn(locale, `record.mismatch-${mismatch}`);
}
