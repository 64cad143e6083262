/**
 * `softset explain FILE`: the same input as `softset judge`; what makes the solids at each temperature, as JSON.
 */
import { sayFinding, weightOf } from "#core/finding.ts";
import { GROUP_WORDS, sayWhy } from "#core/judge/explain-words.ts";
import { type SolidsExplained, explainJudgement } from "#core/judge/explain.ts";
import { judgeBlend } from "#core/judge/verdict.ts";
import { type BlendFile, nameOfIngredient, readBlend, withCertificates } from "./blend-file.ts";
import { jsonText } from "./json-text.ts";

/**
 * Explain the blend in a file.
 * @param rest one file name, or "-" for standard input
 * @returns the answer as JSON text: points of solid fat, settled and fresh, at the temperatures asked for and in use;
 *   none, with the findings that say why, when the blend cannot be judged
 * @throws Refusal when the file cannot be read or does not describe a blend
 */
export async function explainCommand(rest: readonly string[]): Promise<string> {
  return jsonText(answer(readBlend("explain", rest)));
}

/** Without the maker's rules: they decide what may be ordered, not what makes the solids. */
function answer({ blend, certificates, input }: BlendFile) {
  const { celsius, use } = input;
  const judgement = judgeBlend(blend, { celsius, useCelsius: use.celsius });
  const findings = withCertificates(judgement.findings, certificates);
  const standing = findings.filter((found) => weightOf(found) === "cannot-judge");
  return {
    solids: explainJudgement(blend, judgement).map(rounded),
    groups: GROUP_WORDS,
    findings: standing.map((found) => ({
      ...found,
      sentence: sayFinding(found, nameOfIngredient),
    })),
  };
}

function rounded(explained: SolidsExplained) {
  const { celsius, state, solidFat, groups, ingredients, unexplained } = explained;
  return {
    celsius,
    state,
    solidFat: round(solidFat),
    groups: groups.map(({ group, points }) => ({ group, points: round(points) })),
    ingredients: ingredients.map(({ ingredient, points }) => ({
      ingredient,
      points: round(points),
    })),
    unexplained: round(unexplained),
    sentence: sayWhy(explained, nameOfIngredient),
  };
}

function round(points: number): number {
  return Number(points.toFixed(2));
}
