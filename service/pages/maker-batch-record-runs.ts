/**
 * The runs of a batch record as they are read: weights to be and as weighed, yield, and checks with their limits.
 */
import type { Check, LineFigures, RunFigures } from "../batches/record-figures.ts";
import { helpers } from "../documents/helpers.ts";

const NO_BREAK = "\u00a0";

export function runModels(
  runs: readonly RunFigures[],
  grams: (mg: number) => string,
  locale: string,
) {
  return runs.map((run, at) => {
    const made = run.weighedMg !== undefined;
    return {
      run: at + 1,
      ...{ product: run.product, base: run.base, made },
      madeOn: helpers.dateWords(run.madeOn, locale),
      loads: run.loads === 1 ? "one load" : `${run.loads} loads`,
      jars: run.jars.map(({ reference, quantity, jarName, fillG }) => ({
        reference,
        words: `${quantity} × ${jarName} ${fillG}${NO_BREAK}g`,
      })),
      isCorrected: run.lines.some((line) => line.orderedShare !== line.plannedShare),
      lines: run.lines.map((line) => lineModel(line, grams)),
      bulk: grams(run.bulkMg),
      weighed: made ? grams(run.weighedMg) : "",
      difference: made ? differenceOf(run.bulkMg, run.weighedMg, grams) : "",
      yields: yieldsOf(run, grams),
      checks: run.checks.map(checkModel),
    };
  });
}

function lineModel(line: LineFigures, grams: (mg: number) => string) {
  const { actualMg, madeFraction, orderedShare, plannedShare, targetMg } = line;
  return {
    ...{ name: line.name, inci: line.inci, why: line.why },
    ordered: helpers.percent(orderedShare),
    planned: helpers.percent(plannedShare),
    made: madeFraction === undefined ? "" : `${(madeFraction * 100).toFixed(2)}${NO_BREAK}%`,
    target: grams(targetMg),
    actual: actualMg === undefined ? "" : grams(actualMg),
    difference: actualMg === undefined ? "" : differenceOf(targetMg, actualMg, grams),
    lots: line.lots.map(({ code, supplier, bestBefore, usedMg }) => ({
      code: code === "" ? "lot not known" : code,
      supplier,
      bestBefore: bestBefore ?? "",
      used: line.lots.length > 1 ? grams(usedMg) : "",
    })),
  };
}

function differenceOf(targetMg: number, actualMg: number, grams: (mg: number) => string): string {
  const off = actualMg - targetMg;
  if (off === 0) return "none";
  return `${off < 0 ? "\u2212" : "+"}${grams(Math.abs(off))}`;
}

function yieldsOf(run: RunFigures, grams: (mg: number) => string) {
  const { jarsDue, jarsFilled, fillMg, filledMg, leftMg, lossMg, weighedMg } = run;
  const made = weighedMg !== undefined;
  const known = (mg: number | undefined | null) =>
    mg === undefined || mg === null ? "" : grams(mg);
  const of = (filledMg ?? 0) / (weighedMg || 1);
  return [
    { what: "Jars", theory: String(jarsDue), actual: made ? String(jarsFilled) : "" },
    {
      what: "In jars, by their labels",
      theory: grams(fillMg),
      actual: made ? known(filledMg) || "not known: some of several sizes are missing" : "",
    },
    { what: "Left over", theory: "", actual: made ? known(leftMg) || "not weighed" : "" },
    {
      what: "Lost on the way",
      theory: grams(run.bulkMg - fillMg),
      actual: made ? lossWords(lossMg, grams) : "",
    },
    {
      what: "Yield: in jars, of what was weighed in",
      theory: `${((100 * fillMg) / run.bulkMg).toFixed(1)}${NO_BREAK}%`,
      actual: made && filledMg !== undefined ? `${(100 * of).toFixed(1)}${NO_BREAK}%` : "",
    },
  ];
}

function lossWords(lossMg: number | undefined, grams: (mg: number) => string): string {
  if (lossMg === undefined) return "not known";
  return lossMg < 0 ? `${grams(-lossMg)} more came out than went in` : grams(lossMg);
}

function checkModel({ what, least, greatest, expected, found, isWithin }: Check) {
  const density = (value: number) => value.toFixed(3);
  const limit = {
    firmness: expected.join(" to "),
    density:
      least === undefined || greatest === undefined
        ? "none written"
        : `${density(least)} to ${density(greatest)}${NO_BREAK}g/ml`,
    "filled-at": "no limit",
  }[what];
  return {
    what: CHECK_WORDS[what],
    limit,
    found: foundWords(what, found),
    verdict: isWithin === undefined ? "" : isWithin ? "within" : "outside",
  };
}

function foundWords(what: Check["what"], found: Check["found"]): string {
  if (found === undefined) return "not checked";
  if (typeof found === "string") return found;
  return what === "density" ? `${found.toFixed(3)}${NO_BREAK}g/ml` : `${found}${NO_BREAK}°C`;
}

const CHECK_WORDS = {
  firmness: "Firmness, felt",
  density: "Density once whipped",
  "filled-at": "Temperature when filled",
} as const;
