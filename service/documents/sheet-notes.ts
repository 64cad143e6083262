/**
 * What a work order says of the lots of a run, in the language of the bench: only what has to be acted on.
 */
import type { RunVerdict } from "../batches/correction.ts";
import { sayAgainst, sayBecause, sayFaults } from "../batches/correction-words.ts";
import type { BatchRun } from "../batches/sheets.ts";
import { momentIn } from "../pages/maker-pages.ts";
import type { ShopRow } from "../storage/shops.ts";
import type { SheetNote } from "./batch-sheets.ts";
import { namesOn } from "./sheet-lines.ts";
import { type NameOf, tongueOf } from "./tongue.ts";

/**
 * A note for each run; none where its lots hold, or nobody can say and nobody asked.
 * @param shop as its bench reads it
 */
export function sheetNotes(
  shop: ShopRow,
  runs: readonly BatchRun[],
  verdicts: readonly RunVerdict[],
): (SheetNote | undefined)[] {
  return runs.map((run, at) => noteOf(shop, run, verdicts[at]!));
}

function noteOf(shop: ShopRow, run: BatchRun, verdict: RunVerdict): SheetNote | undefined {
  const { say, locale } = tongueOf(shop.locale);
  const nameOf = namesOn(run, locale);
  const found = foundOf(verdict, nameOf, locale);
  const kept = run.correction;
  const mark = found ? say(`lots.${verdict.kind}`) : "";
  if (!kept) return found && { mark, sentences: found, urgent: true, corrected: false };
  const because = kept.told ? sayBecause(kept.told, nameOf, locale) : kept.because;
  const told = say("lots.kept", { when: momentIn(shop)(kept.at), by: kept.by, because });
  const now = found ? [say("lots.now", { mark }), ...found] : [];
  return {
    mark: say("lots.corrected"),
    sentences: [told, ...now],
    urgent: found !== undefined,
    corrected: true,
  };
}

/** What stands against weighing these lots; nothing when nothing does. */
function foundOf(
  verdict: RunVerdict,
  nameOf: NameOf,
  locale: string,
): readonly string[] | undefined {
  if (verdict.kind === "leaves") return sayAgainst(verdict.lots, nameOf, locale);
  return verdict.kind === "cannot-judge" ? sayFaults(verdict, nameOf, locale) : undefined;
}
