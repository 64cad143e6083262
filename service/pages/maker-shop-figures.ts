/**
 * Figures as they are typed on the settings: with a comma or a point.
 */
import { hasDecimals, numberOf } from "../typed/figure.ts";
import { countWords } from "../words/count-words.ts";

export interface AskedFigure {
  /** What the figure is of, with a capital. */
  readonly what: string;
  readonly unit: string;
  readonly least: number;
  readonly greatest: number;
  readonly decimals: number;
  readonly example: number;
  /** Whether leaving it empty is a fault. */
  readonly must?: boolean;
}

/**
 * Read a figure.
 * @returns the figure; nothing when it was left empty and may be; a sentence when it will not do
 */
export function readFigure(typed: string, asked: AskedFigure): number | string | undefined {
  const { what, unit, least, greatest, decimals, example, must = false } = asked;
  if (typed.trim() === "" && !must) return undefined;
  const value = numberOf(typed);
  if (value >= least && value <= greatest && hasDecimals(value, decimals)) return value;
  const kind =
    decimals === 0 ? "a whole number" : `a number with at most ${countWords(decimals, "decimal")}`;
  return `${what} must be ${kind} from ${least} to ${greatest} ${unit}, such as ${example}.`;
}

/** A figure without trailing noughts, as it could be typed. */
export function writeFigure(value: number): string {
  return String(Number(value.toFixed(6)));
}
