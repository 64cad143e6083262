/**
 * A plain figure as it is typed in a form: with a comma or a point for its decimals, and no groups of thousands.
 */

/** The number typed; NaN when it is none. */
export function numberOf(typed: string): number {
  const text = typed.replaceAll(/[\s\u00a0\u202f]/g, "").replace("\u2212", "-");
  return /^[-+]?(\d{1,9}([.,]\d{0,6})?|[.,]\d{1,6})$/.test(text)
    ? Number(text.replace(",", "."))
    : Number.NaN;
}

/** Whether a number has no more decimals than these. */
export function hasDecimals(value: number, most: number): boolean {
  return Math.abs(value - Number(value.toFixed(most))) < 1e-9;
}

/** How a sentence goes on about a field that cannot be read: "is missing", "cannot be “abc”". */
export function saidOf(typed: string): string {
  return typed === "" ? "is missing" : `cannot be “${typed.slice(0, 40)}”`;
}
