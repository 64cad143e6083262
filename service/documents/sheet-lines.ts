/**
 * What stands on a line of a sheet: its ingredient in the language of the paper, and the lots it is taken from.
 */
import { nameIn } from "#data/names.ts";
import type { Allotted } from "../batches/allot.ts";
import { type BatchRun, linesOf } from "../batches/sheets.ts";
import type { NameOf } from "./tongue.ts";

/** What the ingredients of a run are called; a name the maker typed stays as it is typed. */
export function namesOn(run: BatchRun, locale: string): NameOf {
  const lines = new Map(linesOf(run).map((line) => [line.ingredient, line]));
  return (id) => {
    const line = lines.get(id);
    return line ? nameIn(locale, line) : id;
  };
}

/** Codes of the lots that something is taken from. */
export function codesOf(taken: readonly Allotted[] = []): string {
  return [...new Set(taken.flatMap(({ lot }) => (lot ? [lot.code] : [])))].join(", ");
}
