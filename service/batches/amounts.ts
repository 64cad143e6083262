/**
 * Amounts as people type them at the bench.
 */

interface Ask {
  /** What it is, to begin a sentence. */
  readonly what: string;
  readonly unit: "g" | "ml";
  /** Greatest that makes sense [thousandths of the unit] */
  readonly most: number;
}

/**
 * Read an amount in thousandths of its unit: milligrams or microlitres. A comma may stand for the point.
 * @param faults takes a sentence when it is none
 * @returns a whole number; NaN with a fault
 */
export function readAmount(typed: string, { what, unit, most }: Ask, faults: string[]): number {
  const plain = typed.replace(/\s*(g|ml)$/i, "").replace(",", ".");
  const amount = /^\d{1,9}(\.\d{1,3})?$/.test(plain)
    ? Math.round(Number(plain) * 1000)
    : Number.NaN;
  if (amount <= most) return amount;
  const said = typed === "" ? "is missing" : `cannot be “${typed.slice(0, 40)}”`;
  faults.push(
    `${what}: the figure ${said}. Write ${unit} such as 374.40, with three decimals at most, up to ${most / 1000}.`,
  );
  return Number.NaN;
}
