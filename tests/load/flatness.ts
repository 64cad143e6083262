/**
 * Whether something grows: the straight line of least squares through its measures, from end to end.
 */

export interface Measure {
  /** Moment [ms since 1970] */
  readonly at: number;
  readonly value: number;
}

export interface Line {
  readonly atStart: number;
  readonly atEnd: number;
  /** From the first measure to the last, as a part of the mean; below nothing when it shrinks. */
  readonly growth: number;
}

/** @returns nothing for fewer than three measures, through which any line would do */
export function lineThrough(measures: readonly Measure[]): Line | undefined {
  const [first, last] = [measures[0], measures.at(-1)];
  if (measures.length < 3 || !first || !last || first.at === last.at) return undefined;
  const mean = (of: (measure: Measure) => number) =>
    measures.reduce((sum, each) => sum + of(each), 0) / measures.length;
  const [meanAt, meanValue] = [mean(({ at }) => at), mean(({ value }) => value)];
  const across = mean(({ at, value }) => (at - meanAt) * (value - meanValue));
  const slope = across / mean(({ at }) => (at - meanAt) ** 2);
  const on = (at: number) => meanValue + slope * (at - meanAt);
  const growth = (on(last.at) - on(first.at)) / meanValue;
  return { atStart: on(first.at), atEnd: on(last.at), growth };
}

/** The least of each span: what is left of a heap when it was cleared last. */
export function leastOfSpans(measures: readonly Measure[], spanMs: number): Measure[] {
  const least = new Map<number, Measure>();
  for (const each of measures) {
    const span = Math.floor(each.at / spanMs);
    const before = least.get(span);
    if (!before || each.value < before.value) least.set(span, each);
  }
  return [...least.values()];
}
