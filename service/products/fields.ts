/**
 * What was typed on a sheet: text and numbers, with a sentence for whatever cannot be read. A fault names the field it
 * is about, so that the page can lead there.
 */
import { shareFromPercent } from "#core/blend.ts";
import { hasDecimals, numberOf, saidOf } from "../typed/figure.ts";
import type { Fault } from "../typed/fault.ts";
import { slugOf } from "../typed/slug.ts";

export interface Ask {
  readonly field: string;
  /** How the sentence begins, "The share of Shea butter". */
  readonly what: string;
}

/**
 * A percentage as a share.
 * @returns hundredths of a percent; 0 with a fault when it is none
 */
export function readShare(typed: string, { field, what }: Ask, faults: Fault[]): number {
  const share = shareFromPercent(numberOf(typed));
  if (share !== undefined) return share;
  const sentence = `${what} ${saidOf(typed)}: write a percentage from 0 to 100 with at most two decimals.`;
  faults.push({ field, sentence });
  return 0;
}

export interface Range {
  readonly least: number;
  readonly greatest: number;
  readonly unit: string;
  readonly decimals: number;
}

/** A number in a range; the least with a fault when it is none. */
export function readNumber(
  typed: string,
  { field, what }: Ask,
  { least, greatest, unit, decimals }: Range,
  faults: Fault[],
): number {
  const value = numberOf(typed);
  if (value >= least && value <= greatest && hasDecimals(value, decimals)) return value;
  const kind = decimals === 0 ? "a whole number" : "a number";
  const sentence = `${what} ${saidOf(typed)}: write ${kind} from ${least} to ${greatest} ${unit}.`;
  faults.push({ field, sentence: sentence.replace(" .", ".") });
  return least;
}

/** A text no longer than it may be. */
export function checkLength(text: string, most: number, ask: Ask, faults: Fault[]): void {
  const length = [...text].length;
  if (length <= most) return;
  const sentence = `${ask.what} may have ${most} characters; it has ${length}.`;
  faults.push({ field: ask.field, sentence });
}

/** "12.5" of a share, without needless zeros, for a field. */
export function typedShare(share: number): string {
  return String(share / 100);
}

/** "12.5 %" of a share, for a sentence. */
export function percentWords(share: number): string {
  return `${share / 100}\u00a0%`;
}

/** Names that are the same to a reader: case, width and blanks do not tell them apart. */
export function sameName(one: string, other: string): boolean {
  return plain(one) === plain(other);
}

function plain(name: string): string {
  return name.normalize("NFKC").toLocaleLowerCase("und").replaceAll(/\s+/g, " ").trim();
}

/**
 * An id for a name: small letters, digits and hyphens, of which the taken ones get a number.
 * @param otherwise what to call a name without a Latin letter or digit
 */
export function idFor(name: string, otherwise: string, taken: readonly string[]): string {
  const stem = slugOf(name, 40) || otherwise;
  let id = stem;
  for (let next = 2; taken.includes(id); next++) id = `${stem}-${next}`;
  return id;
}
