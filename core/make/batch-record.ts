/**
 * What a batch record holds: the kinds of its entries, and which of them a person writes.
 *
 * The headings follow ISO 22716:2007 (good manufacturing practices for cosmetics), clause 7.2 and those on checks and
 * release: identity, formula, raw materials with lots and quantities, steps, checks with their limits, deviations,
 * retained sample, decision. Clause 7.2 read in a translation, the others from memory.
 */

/** Written by the service in one list with the change itself. */
type ToldKind = "issued" | "taken-over" | "set-aside" | "taken-up" | "closed" | "closing-amended";

/** Written by a person. */
type PersonKind =
  | "started"
  | "step"
  | "deviation"
  | "retained-sample"
  | "note"
  | "net-content"
  | "label-override"
  | "labels-printed"
  | "lot-correction"
  | "correction"
  | "release";

export type RecordKind = ToldKind | PersonKind;

/** A later decision stands above an earlier one, and both stay in the record. */
export const DECISIONS = ["released", "held", "rejected"] as const;
export type Decision = (typeof DECISIONS)[number];
