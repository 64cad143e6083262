/**
 * What a batch record holds: the kinds of its entries, and which of them a person may write, correct or decide.
 *
 * The headings follow ISO 22716:2007 (good manufacturing practices for cosmetics), clauses 6, 7, 9, 10 and 17: identity,
 * formula, raw materials with lots and quantities, steps, checks with their limits, deviations, retained sample, release.
 */

/** Written by the service in one list with the change itself. */
export const TOLD_KINDS = [
  "issued",
  "taken-over",
  "set-aside",
  "taken-up",
  "closed",
  "closing-amended",
] as const;

/** Written by a person. */
export const PERSON_KINDS = [
  "started",
  "step",
  "deviation",
  "retained-sample",
  "note",
  "net-content",
  "label-override",
  "labels-printed",
  "lot-correction",
  "correction",
  "release",
] as const;

export type RecordKind = (typeof TOLD_KINDS)[number] | (typeof PERSON_KINDS)[number];

/** A later decision stands above an earlier one, and both stay in the record. */
export const DECISIONS = ["released", "held", "rejected"] as const;
export type Decision = (typeof DECISIONS)[number];

/** An entry as it is read: who wrote what, and when. */
export interface RecordEntry<Body = unknown> {
  /** From 1. */
  readonly sequence: number;
  /** [s since 1970] */
  readonly at: number;
  readonly by: string;
  readonly kind: RecordKind;
  readonly body: Body;
}
