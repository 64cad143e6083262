/**
 * What was promised of a jar, as its work order says it: how firm, on which day, and above what it softens.
 */
import type { FirmnessPromise } from "#core/make/work-order.ts";
import { daysAfter } from "../days.ts";
import { dateWords } from "./figures.ts";
import type { Tongue } from "./tongue.ts";

/** Clauses that can be written; one that cannot is empty. @param madeOnISO day of making */
export function promiseWords(promise: FirmnessPromise, madeOnISO: string, tongue: Tongue) {
  const { say, celsius, locale } = tongue;
  const { afterDays: days, settled, lowest, highest } = promise;
  const { softensAboveC: above, softensAboveLeastC: least } = promise;
  const day = dateWords(daysAfter(madeOnISO, days), locale);
  const firmness = (each: typeof settled) => say(`firmness.${each}`);
  const spread = { lowest: firmness(lowest), highest: firmness(highest) };
  return {
    when: say("sheet.promised", { day, days, celsius: celsius(promise.celsius) }),
    firmness: firmness(settled),
    spread: lowest === highest ? "" : say("sheet.promisedSpread", spread),
    softens:
      above === undefined
        ? ""
        : least === undefined
          ? say("sheet.softens", { celsius: celsius(above) })
          : say("sheet.softensWorst", { celsius: celsius(above), least: celsius(least) }),
  };
}
