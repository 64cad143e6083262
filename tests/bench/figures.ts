/**
 * A measured figure, beside what limits it on the same machine in the same run and what is promised of it.
 */
export type Unit = "/s" | "s" | "ms" | "µs" | "MB" | "KiB" | "points";

export interface Measured {
  readonly what: string;
  readonly value: number;
  readonly unit: Unit;
}

/** What was promised of a figure, and whether it came so. */
export interface Promised {
  readonly words: string;
  readonly isKept: boolean;
}

export interface Figure extends Measured {
  /** More of the same measurement, such as "p99 12 ms". */
  readonly more?: string;
  readonly beside?: readonly Measured[];
  readonly promise?: Promised;
  /** Left out of the README, where a line above sums it up. */
  readonly isDetail?: true;
}

/** @param rest what else is told of it */
export function figure(
  what: string,
  value: number,
  unit: Unit,
  rest: Omit<Figure, keyof Measured> = {},
): Figure {
  return { what, value, unit, ...rest };
}

/** Nearest-rank percentiles [ms] */
export interface Times {
  readonly p50: number;
  readonly p95: number;
  readonly p99: number;
}

/** @param ms in any order; one or more */
export function timesOf(ms: readonly number[]): Times {
  const sorted = [...ms].sort((one, other) => one - other);
  const at = (share: number) => sorted[Math.ceil(sorted.length * share) - 1]!;
  return { p50: at(0.5), p95: at(0.95), p99: at(0.99) };
}

/** The one in the middle; of an even number the lower one. */
export function medianOf(values: readonly number[]): number {
  return timesOf(values).p50;
}

/** A number with its unit, as precise as it is worth: "12 345/s", "3.1 ms". */
export function sayFigure({ value, unit }: Pick<Measured, "value" | "unit">): string {
  return unit === "/s" ? `${sayNumber(value)}/s` : `${sayNumber(value)} ${unit}`;
}

/** Two figures at least, thousands apart. */
export function sayNumber(value: number): string {
  const decimals = value === 0 || Math.abs(value) >= 10 ? 0 : Math.abs(value) >= 1 ? 1 : 2;
  const [whole, part] = value.toFixed(decimals).split(".");
  const apart = whole!.replace(/\B(?=(\d{3})+$)/g, "\u00a0");
  return part === undefined ? apart : `${apart}.${part}`;
}

/** "at least 70 % of bare Hono: 83 %" */
export function atLeastShare(ours: number, limit: number, least: number, of: string): Promised {
  const share = ours / limit;
  const percent = (part: number) => `${Math.round(100 * part)} %`;
  return {
    words: `at least ${percent(least)} of ${of}: ${percent(share)}`,
    isKept: share >= least,
  };
}

export function atLeast(value: number, least: number): Promised {
  return { words: `at least ${sayNumber(least)}`, isKept: value >= least };
}

/** @param what is promised of another figure than the one that is told, such as "p99 " */
export function under(value: number, most: number, what = ""): Promised {
  return { words: `${what}under ${sayNumber(most)}`, isKept: value < most };
}

/** Several promises of one figure; none when there are none. */
export function allOf(promises: readonly Promised[]): { readonly promise?: Promised } {
  if (promises.length === 0) return {};
  const words = promises.map((each) => each.words).join("; ");
  return { promise: { words, isKept: promises.every(({ isKept }) => isKept) } };
}
