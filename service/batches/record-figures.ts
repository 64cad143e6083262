/**
 * A run as it was to be and as it came out: shares, weights, yield and checks, side by side.
 */
import { FIRMNESS_CLASSES, type FirmnessClass } from "#core/judge/firmness.ts";
import type { ClosedBody, Issued } from "./record-shapes.ts";

type IssuedRun = Issued["runs"][number];
type ClosedRun = ClosedBody["runs"][number];

export interface LineFigures {
  readonly name: string;
  readonly inci: string;
  /** As ordered [hundredths of a percent] */
  readonly orderedShare: number;
  /** As the work order had it in the end; the same unless it was corrected for its lots. */
  readonly plannedShare: number;
  readonly targetMg: number;
  /** Nothing while the batch is open. */
  readonly actualMg: number | undefined;
  /** Part of what was weighed in, as a fraction. */
  readonly madeFraction: number | undefined;
  readonly lots: ClosedRun["lines"][number]["lots"];
  readonly why: string;
}

export interface RunFigures {
  readonly product: string;
  readonly base: string;
  readonly madeOn: string;
  readonly loads: number;
  readonly lines: readonly LineFigures[];
  readonly bulkMg: number;
  readonly weighedMg: number | undefined;
  readonly jars: IssuedRun["jars"];
  readonly jarsDue: number;
  readonly jarsFilled: number | undefined;
  /** Theoretical yield: what the jars take [mg] */
  readonly fillMg: number;
  /** What the filled jars take by their labels; nothing when it is not known which sizes were filled [mg] */
  readonly filledMg: number | undefined;
  readonly leftMg: number | null;
  /** Weighed in and neither filled nor left over; nothing when one of these is not known [mg] */
  readonly lossMg: number | undefined;
  readonly steps: IssuedRun["steps"];
  readonly checks: readonly Check[];
}

export interface Check {
  readonly what: "firmness" | "density" | "filled-at";
  readonly least: number | undefined;
  readonly greatest: number | undefined;
  /** Classes the promise reaches. */
  readonly expected: readonly FirmnessClass[];
  readonly found: number | FirmnessClass | undefined;
  /** Nothing when it was not checked or no limit is set. */
  readonly isWithin: boolean | undefined;
}

/**
 * @param corrected the work order after the last correction for its lots, if there was one
 * @param closed nothing while the batch is open
 */
export function runFigures(
  ordered: Issued,
  corrected: Issued | undefined,
  closed: ClosedBody | undefined,
): RunFigures[] {
  return ordered.runs.map((run, at) =>
    figuresOf(run, corrected?.runs[at] ?? run, closed?.runs[at]),
  );
}

function figuresOf(
  ordered: IssuedRun,
  planned: IssuedRun,
  closed: ClosedRun | undefined,
): RunFigures {
  const { product, base, madeOn, loads, jars, fillMg, steps } = planned;
  const weighedMg = closed?.lines.reduce((sum, line) => sum + actualOf(line), 0);
  const jarsDue = jars.reduce((sum, { quantity }) => sum + quantity, 0);
  const jarsFilled = closed?.jarsFilled;
  const filledMg = jarsFilled === undefined ? undefined : filledOf(planned, jarsDue, jarsFilled);
  const leftMg = closed?.leftMg ?? null;
  return {
    ...{ product, base, madeOn, loads, jars, jarsDue, jarsFilled, fillMg, filledMg, leftMg, steps },
    ...{ weighedMg, checks: checksOf(planned, closed) },
    bulkMg: planned.lines.reduce((sum, { targetMg }) => sum + targetMg, 0),
    lossMg:
      weighedMg === undefined || filledMg === undefined || leftMg === null
        ? undefined
        : weighedMg - filledMg - leftMg,
    lines: planned.lines.map(({ ingredient, name, inci, share, targetMg }) => {
      const line = closed?.lines.find((each) => each.ingredient === ingredient);
      const actualMg = line && actualOf(line);
      return {
        ...{ name, inci, targetMg, actualMg },
        orderedShare: ordered.lines.find((each) => each.ingredient === ingredient)?.share ?? 0,
        plannedShare: share,
        madeFraction: actualMg !== undefined && weighedMg ? actualMg / weighedMg : undefined,
        lots: line?.lots ?? [],
        why: line?.why ?? "",
      };
    }),
  };
}

function actualOf({ lots }: ClosedRun["lines"][number]): number {
  return lots.reduce((sum, { usedMg }) => sum + usedMg, 0);
}

/** By the labels of the jars: known when all were filled, or all are of one size. */
function filledOf({ jars, fillMg }: IssuedRun, due: number, filled: number): number | undefined {
  if (filled === due) return fillMg;
  const [size, ...others] = new Set(jars.map(({ fillG }) => fillG));
  return size === undefined || others.length > 0 ? undefined : filled * Math.round(size * 1000);
}

function checksOf(run: IssuedRun, closed: ClosedRun | undefined): Check[] {
  const { lowest, highest } = run.promise;
  const expected = FIRMNESS_CLASSES.slice(
    FIRMNESS_CLASSES.indexOf(lowest),
    FIRMNESS_CLASSES.indexOf(highest) + 1,
  );
  const felt = closed?.texture ?? undefined;
  const cup = closed?.cup;
  const density = cup ? cup.massMg / cup.ul : undefined;
  const { density: limit } = run;
  const none = { least: undefined, greatest: undefined, expected: [] };
  return [
    {
      ...{ ...none, what: "firmness", expected, found: felt },
      isWithin: felt && expected.includes(felt),
    },
    {
      ...{ ...none, what: "density", found: density },
      ...(limit ? { least: limit.least, greatest: limit.greatest } : {}),
      isWithin:
        limit && density !== undefined
          ? density >= limit.least && density <= limit.greatest
          : undefined,
    },
    { ...none, what: "filled-at", found: closed?.celsius ?? undefined, isWithin: undefined },
  ];
}
