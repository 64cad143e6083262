/**
 * The verdict together with what no rule asks for: iodine and saponification value, the oxidation order, and whether
 * it can turn grainy, or its liquid set in the cold. They stand apart from `verdict.ts`, so that the page's script need
 * not carry what the page does not show.
 */
import type { Blend } from "../blend.ts";
import { characteristicValues } from "./characteristic-values.ts";
import { grainFindings } from "./grain.ts";
import { settingFindings } from "./liquid-sets.ts";
import { meltOf } from "./melt.ts";
import { oxidationOf } from "./oxidation.ts";
import { type Judgement, type Question, judgeBlend } from "./verdict.ts";

/**
 * Judge a blend and tell every figure there is.
 * @param blend shares sum to the whole
 * @param question temperatures [C], air fraction [-] and the maker's rules
 */
export function judgeInFull(blend: Blend, question: Question): Judgement {
  const judgement = judgeBlend(blend, question);
  if (!judgement.firmness) return judgement;
  const melt = meltOf(blend)!; // judged firm, so there is fat in it
  return {
    ...judgement,
    ...characteristicValues(blend),
    oxidation: oxidationOf(blend),
    findings: [...judgement.findings, ...grainFindings(melt), ...settingFindings(blend, question)],
  };
}
