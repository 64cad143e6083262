/**
 * What became of a batch, as it is stored: what was really weighed and from which lots, what came out, and how it was.
 */
import { FIRMNESS_CLASSES } from "#core/judge/firmness.ts";
import * as z from "zod";

const mg = z.int().min(0);

const LineShape = z.object({
  ingredient: z.string(),
  name: z.string(),
  targetMg: mg,
  /** No lot where the maker did not know it; the reason then says so. */
  portions: z.array(z.object({ lotId: z.string().nullable(), code: z.string(), usedMg: mg })),
  /** Why it is not as it should be: a lot past its date, blocked or not known, or a weight far off. */
  why: z.string(),
});

const RunShape = z.object({
  lines: z.array(LineShape),
  jarsFilled: z.int().min(0),
  /** Left over after filling; null when it was not weighed. */
  leftMg: mg.nullable(),
  texture: z.enum(FIRMNESS_CLASSES).nullable(),
  celsius: z.number().nullable(),
  /** A cup of known volume and what of the butter fills it. */
  cup: z.object({ ul: z.int().positive(), massMg: z.int().positive() }).nullable(),
});

const BatchClosingShape = z.object({
  runs: z.array(RunShape),
  /** References of orders that were not filled whole and wait again. */
  shortOrders: z.array(z.string()),
  note: z.string(),
  /** A closed batch is corrected by a note and by nothing else. */
  added: z.array(z.object({ at: z.int(), by: z.string(), words: z.string() })),
});

export type BatchClosing = z.infer<typeof BatchClosingShape>;
export type ClosedRun = BatchClosing["runs"][number];
export type ClosedLine = ClosedRun["lines"][number];

/** Kept while a batch is set aside: who stood in it. */
export const SetAsideShape = z.object({
  setAside: z.object({
    at: z.int(),
    orders: z.array(z.object({ id: z.string(), run: z.int() })),
  }),
});

export function readClosing(closing: string | null): BatchClosing | undefined {
  return closing === null ? undefined : BatchClosingShape.parse(JSON.parse(closing));
}

/** What really went into a line [mg] */
export function actualMgOf({ portions }: ClosedLine): number {
  return portions.reduce((sum, { usedMg }) => sum + usedMg, 0);
}
