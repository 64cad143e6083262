/**
 * A figure as a maker types it, with comma or point: exact, never through a floating-point number.
 */

export type ReadDecimal =
  | { readonly units: number }
  | {
      readonly fault:
        "empty" | "not-a-number" | "negative" | "too-many-decimals" | "two-readings" | "too-large";
    };

/**
 * Read a figure.
 *
 * The last of a comma and a point is the decimal mark when both stand there; spaces, apostrophes and the other of
 * the two part thousands. A single mark before exactly three digits is refused unless the figure has three
 * decimals or none, because "1,250" means one figure in one country and another in the next.
 * @param typed as it was typed; digits of any of the usual scripts
 * @param decimals how many decimals the figure may have
 * @returns the figure in units of its last decimal, or what is wrong with it
 */
export function readDecimal(typed: string, decimals: number): ReadDecimal {
  const plain = plainDigits(typed);
  if (plain === "") return { fault: "empty" };
  if (/^[-\u2212\u2013]\s?[\d.,]/.test(plain)) return { fault: "negative" };
  const parts = partsOf(plain, decimals);
  if (typeof parts === "string") return { fault: parts };
  const [whole, fraction] = parts;
  const kept = fraction.replace(/0+$/, "");
  if (kept.length > decimals) return { fault: "too-many-decimals" };
  const units = Number(whole + kept.padEnd(decimals, "0"));
  return Number.isSafeInteger(units) ? { units } : { fault: "too-large" };
}

/** Full-width, Arabic and Persian digits and marks as the plain ones; no space at the ends. */
function plainDigits(typed: string): string {
  return typed
    .normalize("NFKC")
    .replace(/[\u0660-\u0669\u06f0-\u06f9]/g, (digit) => String(digit.charCodeAt(0) & 0xf))
    .replaceAll("\u066b", ".")
    .replaceAll("\u066c", " ")
    .trim();
}

/** Digits before and after the decimal mark. */
function partsOf(
  plain: string,
  decimals: number,
): readonly [string, string] | "not-a-number" | "two-readings" {
  const marks = plain.match(/[.,]/g) ?? [];
  const last = marks.at(-1);
  const single = marks.length === 1;
  const before = last === undefined ? plain : plain.slice(0, plain.lastIndexOf(last));
  const after = last === undefined ? "" : plain.slice(plain.lastIndexOf(last) + 1);
  const alike = new Set(marks).size === 1 && !single;
  const inGroups = alike || (single && decimals === 0 && /^\d{3}$/.test(after));
  if (inGroups) return grouped(plain, last!) ? [digitsOf(plain), ""] : "not-a-number";
  if (single && decimals !== 3 && /^[1-9]\d{0,2}$/.test(before) && /^\d{3}$/.test(after)) {
    return "two-readings";
  }
  const groupMark = single ? " " : last === "." ? "," : ".";
  const whole = before === "" && /\d/.test(after) ? "0" : before;
  if (!grouped(whole, groupMark) || !/^\d*$/.test(after)) return "not-a-number";
  return [digitsOf(whole), after];
}

/** Digits in one run, or in groups of three parted by the mark, spaces or apostrophes. */
function grouped(text: string, mark: string): boolean {
  return /^\d+$/.test(text) || new RegExp(`^\\d{1,3}(?:[${mark}'\u2019\\s]\\d{3})+$`).test(text);
}

function digitsOf(text: string): string {
  return text.replace(/\D/g, "");
}
