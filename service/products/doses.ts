/**
 * The most of an additive that may go into a jar: the maker's own greatest share, or else what the library records as
 * usual. Of an essential oil the lower one counts, because skin is at stake; it replaces no safety assessment.
 */
import { WHOLE } from "#core/blend.ts";
import { recordOf } from "#data/library.ts";
import { type Desk, nameOf } from "./desk.ts";
import { percentWords } from "./fields.ts";

export interface DoseCap {
  /** [hundredths of a percent] */
  readonly mostShare: number;
  readonly because: string;
}

/** Cap of an ingredient. */
export function doseCapOf(desk: Desk, id: string): DoseCap {
  const row = desk.shelf.get(id);
  const record = recordOf(row?.libraryId ?? id);
  const own = row?.doseMostShare ?? undefined;
  const usual = record && Math.round(record.usePercent.high * 100);
  const phototoxic = record?.essentialOil?.phototoxicMostPercent?.value;
  const skin = phototoxic === undefined ? WHOLE : Math.round(phototoxic * 100);
  const isEssential = record?.essentialOil !== undefined;
  if (own !== undefined && (!isEssential || own <= Math.min(usual ?? WHOLE, skin))) {
    return { mostShare: own, because: "the most you set on your shelf" };
  }
  if (skin < (usual ?? WHOLE)) return { mostShare: skin, because: "the most on skin in the sun" };
  if (usual !== undefined) return { mostShare: usual, because: "the most that is usual" };
  return { mostShare: WHOLE, because: "" };
}

/** A sentence when a share is more than the cap; empty when it is not. */
export function doseFault(desk: Desk, id: string, share: number): string {
  const { mostShare, because } = doseCapOf(desk, id);
  if (share <= mostShare) return "";
  return (
    `${nameOf(desk, id)} is at ${percentWords(share)}; ${percentWords(mostShare)} is ${because}. ` +
    "Take less, or set another most on your shelf if your supplier’s papers allow it."
  );
}
