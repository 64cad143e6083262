/**
 * Which letters a print can hold. Others are written by their nearest Latin ones where there are such; what is left is
 * marked and counted, so that nothing goes missing unseen.
 */
import { LABEL_FACE } from "#data/library/label-font.ts";

/** Stands for a character that has no letter in the font; drawn as an empty box. */
export const UNWRITTEN = "\ufffc";

const PLAIN = /^[ -~]*$/;

const { advances } = LABEL_FACE.regular;

/** Nearest letters that decomposition does not give. */
const NEAREST: Readonly<Record<string, string>> = {
  ...{ Ł: "L", ł: "l", Đ: "D", đ: "d", Ħ: "H", ħ: "h", Ŧ: "T", ŧ: "t", Ŋ: "N", ŋ: "n", ẞ: "SS" },
  ...{ "\u2010": "-", "\u2011": "-", "\u2212": "–", "◆": "•", "\u202f": "\u00a0", "\u2007": " " },
};

/** Words as the font can write them; controls and marks of direction leave no trace on paper. */
export function written(words: string): string {
  if (PLAIN.test(words)) return words; // nearly all of them
  const composed = words.normalize("NFC").replaceAll(/[\s\p{Cc}]+/gu, spaceFor);
  if (isWritten(composed)) return composed;
  const clusters = new Intl.Segmenter("en", { granularity: "grapheme" }).segment(composed);
  return Array.from(clusters, ({ segment }) => nearest(segment)).join("");
}

/** Whether every character has its letter. */
export function isWritten(words: string): boolean {
  for (const character of words) if (!advances.has(character)) return false;
  return true;
}

/** How many characters of written words are marked as missing. */
export function unwrittenIn(words: string): number {
  return words.split(UNWRITTEN).length - 1;
}

function spaceFor(space: string): string {
  return /^\u00a0+$/.test(space) ? space : /^[\u202f\u2007]+$/.test(space) ? "\u00a0" : " ";
}

function nearest(cluster: string): string {
  if (isWritten(cluster)) return cluster;
  const plain = cluster.normalize("NFKD").replaceAll(/[\p{M}\p{Cf}]/gu, "");
  const letters = Array.from(plain, (letter) => NEAREST[letter] ?? letter).join("");
  return isWritten(letters) ? letters : UNWRITTEN;
}
