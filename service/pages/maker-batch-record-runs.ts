/**
 * The runs of a batch record as they are read: weights to be and as weighed, yield, and checks with their limits.
 */
import { WHOLE } from "#core/blend.ts";
import { nameIn } from "#data/names.ts";
import type { Check, LineFigures, RunFigures } from "../batches/record-figures.ts";
import { dateWords } from "../documents/figures.ts";
import type { Tongue } from "../documents/tongue.ts";
import type { Grams } from "./maker-batch-record-entry.ts";

const NO_BREAK = "\u00a0";

/** Runs in words. @param several whether the batch has more than one, so that each says which it is */
export function runModels(
  runs: readonly RunFigures[],
  grams: Grams,
  tongue: Tongue,
  several: boolean,
) {
  const { say, number, locale } = tongue;
  return runs.map((run, at) => {
    const made = run.weighedMg !== undefined;
    const name = `${run.product}, ${run.base}`;
    const jars = run.jars.map(({ reference, quantity, jarName, fillG }) =>
      say("record.jarWords", { reference, quantity, jar: jarName, fill: number(fillG) }),
    );
    return {
      run: at + 1,
      made,
      title: several ? say("record.runTitle", { run: at + 1, name }) : name,
      words: say("record.runWords", {
        day: dateWords(run.madeOn, locale),
        loads: run.loads,
        jars: jars.join(say("sheet.semicolon")),
      }),
      isCorrected: run.lines.some((line) => line.orderedShare !== line.plannedShare),
      lines: run.lines.map((line) => lineModel(line, grams, tongue)),
      bulk: grams(run.bulkMg),
      weighed: made ? grams(run.weighedMg) : "",
      difference: made ? differenceOf(run.bulkMg, run.weighedMg, grams, tongue) : "",
      yields: yieldsOf(run, grams, tongue),
      checks: run.checks.map((check) => checkModel(check, tongue)),
    };
  });
}

function lineModel(line: LineFigures, grams: Grams, tongue: Tongue) {
  const { say, percent } = tongue;
  const { actualMg, madeFraction, orderedShare, plannedShare, targetMg } = line;
  const name = nameIn(tongue.locale, line);
  return {
    ...{ name, inci: line.inci, why: line.why },
    more: say("record.moreLots", { name }),
    ordered: percent(orderedShare),
    planned: percent(plannedShare),
    made: madeFraction === undefined ? "" : percent(madeFraction * WHOLE),
    target: grams(targetMg),
    actual: actualMg === undefined ? "" : grams(actualMg),
    difference: actualMg === undefined ? "" : differenceOf(targetMg, actualMg, grams, tongue),
    lots: line.lots.map(({ code, supplier, bestBefore, usedMg }) => ({
      code: code === "" ? say("record.lotUnknown") : code,
      supplier,
      durable: bestBefore === null ? "" : say("record.durable", { day: bestBefore }),
      used: line.lots.length > 1 ? grams(usedMg) : "",
    })),
  };
}

function differenceOf(targetMg: number, actualMg: number, grams: Grams, { say }: Tongue): string {
  const off = actualMg - targetMg;
  if (off === 0) return say("record.none");
  return `${off < 0 ? "\u2212" : "+"}${grams(Math.abs(off))}`;
}

function yieldsOf(run: RunFigures, grams: Grams, tongue: Tongue) {
  const { say } = tongue;
  const { jarsDue, jarsFilled, fillMg, filledMg, leftMg, lossMg, weighedMg } = run;
  const made = weighedMg !== undefined;
  const known = (mg: number | undefined | null) =>
    mg === undefined || mg === null ? "" : grams(mg);
  const tenths = (fraction: number) => `${tongue.tenths(100 * fraction)}${NO_BREAK}%`;
  const of = (filledMg ?? 0) / (weighedMg || 1);
  return [
    { what: say("sheet.jars"), theory: String(jarsDue), actual: made ? String(jarsFilled) : "" },
    {
      what: say("record.inJars"),
      theory: grams(fillMg),
      actual: made ? known(filledMg) || say("record.sizesUnknown") : "",
    },
    {
      what: say("record.leftOver"),
      theory: "",
      actual: made ? known(leftMg) || say("record.notWeighed") : "",
    },
    {
      what: say("record.lost"),
      theory: grams(run.bulkMg - fillMg),
      actual: made ? lossWords(lossMg, grams, tongue) : "",
    },
    {
      what: say("record.yieldOf"),
      theory: tenths(fillMg / run.bulkMg),
      actual: made && filledMg !== undefined ? tenths(of) : "",
    },
  ];
}

function lossWords(lossMg: number | undefined, grams: Grams, { say }: Tongue): string {
  if (lossMg === undefined) return say("record.notKnown");
  return lossMg < 0 ? say("record.moreOut", { mass: grams(-lossMg) }) : grams(lossMg);
}

function checkModel({ what, least, greatest, expected, found, isWithin }: Check, tongue: Tongue) {
  const { say, thousandths } = tongue;
  const classes = expected.map((each) => say(`firmness.${each}`));
  const [lowest = "", highest = lowest] = [classes[0], classes.at(-1)];
  const between = (from: string, to: string) =>
    from === to ? from : say("sheet.range", { least: from, greatest: to });
  const limit = {
    firmness: between(lowest, highest),
    density:
      least === undefined || greatest === undefined
        ? say("record.limitUnwritten")
        : `${between(thousandths(least), thousandths(greatest))}${NO_BREAK}g/ml`,
    "filled-at": say("record.noLimit"),
  }[what];
  return {
    what: say(`record.check-${what}`),
    limit,
    found: foundWords(what, found, tongue),
    verdict: isWithin === undefined ? "" : say(isWithin ? "record.inside" : "record.outside"),
  };
}

function foundWords(what: Check["what"], found: Check["found"], tongue: Tongue): string {
  const { say, thousandths, number } = tongue;
  if (found === undefined) return say("record.notChecked");
  if (typeof found === "string") return say(`firmness.${found}`);
  return what === "density"
    ? `${thousandths(found)}${NO_BREAK}g/ml`
    : `${number(found)}${NO_BREAK}°C`;
}
