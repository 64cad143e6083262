/**
 * One test jar as a line of the notebook.
 */
import { type FirmnessLaw, PUBLISHED_LAW } from "#core/judge/firmness.ts";
import type { ReadJar } from "../kitchen/evidence.ts";
import { classBy, toldClass } from "../kitchen/leave-one-out.ts";

/** A line: what was weighed and felt, and what each law says of it. */
export function jarLine({ row, evidence, leftOut }: ReadJar, law: FirmnessLaw) {
  const felt = row.grade ?? (evidence ? `${toldClass(evidence)}, by cone` : "by cone");
  const published = evidence ? classBy(evidence, PUBLISHED_LAW) : "not judged";
  const own = evidence ? classBy(evidence, law) : "not judged";
  return {
    id: row.id,
    number: row.number,
    title: row.title,
    lot: row.lot,
    note: row.note,
    days: row.daysRested,
    celsius: String(row.celsius),
    air: evidence ? `${Math.round(100 * evidence.airFraction)} %` : "not known",
    solids: evidence ? `${evidence.solidFatPercent.toFixed(0)} %` : "not known",
    felt,
    published,
    own,
    leftOut: leftOut ?? "",
    struck: row.struckAt !== null,
  };
}
