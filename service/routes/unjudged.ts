/**
 * The answer where nothing could be sought, because the blend asked about cannot be judged.
 */
import { type Finding, sayFinding } from "#core/finding.ts";
import { choiceRefused } from "../actions/choice-refused.ts";

/**
 * @param what was asked, at the beginning of a sentence
 * @throws Refusal compose.choice.refused when it is none of the product's own
 */
export function unjudged(
  findings: readonly Finding[],
  nameOf: (id: string) => string,
  what?: string,
) {
  if (findings.some(({ code }) => code.startsWith("compose."))) throw choiceRefused(findings, what);
  return {
    kind: "cannot-judge" as const,
    findings: findings.map((each) => ({ ...each, sentence: sayFinding(each, nameOf) })),
  };
}
