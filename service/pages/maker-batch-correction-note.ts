/**
 * What the batch's page and its work order say of the lots of a run, in a line or two.
 */
import type { RunVerdict } from "../batches/correction.ts";
import { sayVerdict } from "../batches/correction-words.ts";
import { type BatchSheets, linesOf } from "../batches/sheets.ts";
import type { ShopRow } from "../storage/shops.ts";
import { momentIn } from "./maker-pages.ts";

export interface CorrectionNote {
  /** Stated in a word before it is explained. */
  readonly mark: string;
  readonly sentences: readonly string[];
  /** Whether somebody has to look before anything is weighed. */
  readonly urgent: boolean;
  /** Whether the shares are others than those ordered. */
  readonly corrected: boolean;
  /** Since when earlier prints are void; empty when nothing was changed. */
  readonly voidSince: string;
  readonly href: string;
  readonly link: string;
}

/** A note for each run; none where there is nothing to say. */
export function correctionNotes(
  shop: ShopRow,
  number: string,
  sheets: BatchSheets,
  verdicts: readonly RunVerdict[],
): (CorrectionNote | undefined)[] {
  const when = momentIn(shop);
  return sheets.runs.map((run, at) => {
    const names = new Map(linesOf(run).map(({ ingredient, name }) => [ingredient, name]));
    const verdict = sayVerdict(verdicts[at]!, (id) => names.get(id) ?? id);
    const last = sheets.changes?.findLast((change) => change.run === at);
    const kept = run.correction;
    if (!verdict && !kept && !last) return undefined;
    const isUrgent = verdict?.isUrgent ?? false;
    const state = { mark: verdict?.mark ?? "", sentences: verdict?.sentences ?? [] };
    const corrected = kept && {
      mark: "Corrected for its lots",
      sentences: [
        `Done on ${when(kept.at)} by ${kept.by}. ${kept.because}`,
        ...(isUrgent ? [`By the lots suggested now: ${state.mark.toLowerCase()}.`] : []),
        ...(isUrgent ? state.sentences : []),
      ],
    };
    return {
      ...(corrected ?? state),
      urgent: isUrgent,
      corrected: kept !== undefined,
      voidSince: last ? when(last.at) : "",
      href: `/maker/batches/${number}/correction/${at + 1}`,
      link: kept
        ? "Look at the correction"
        : isUrgent
          ? "See what can be done"
          : "Look at its lots",
    };
  });
}
