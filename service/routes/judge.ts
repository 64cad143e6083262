/**
 * A choice in, its verdict out; nothing is stored.
 */
import { type Finding, sayFinding } from "#core/finding.ts";
import { sayWhy } from "#core/judge/explain-words.ts";
import { type SolidsExplained, explainJudgement } from "#core/judge/explain.ts";
import type { SolidFatPoint } from "#core/judge/verdict.ts";
import type { VerdictAnswer } from "#core/wire.ts";
import { ingredientById } from "#data/library.ts";
import { Hono } from "hono";
import { judgeChoice } from "../actions/judge-choice.ts";
import type { Offers } from "../actions/offer.ts";
import { readJson } from "../middleware.ts";
import { VerdictRequestShape } from "../shapes.ts";

export function judgeRoutes(offers: Offers) {
  return new Hono().post("/verdicts", async (c) => {
    const { product, choice, zone, explain = false } = await readJson(c, VerdictRequestShape);
    const { wire, ground } = await offers.of(product, "recent", zone);
    const { blend, judgement } = judgeChoice(wire.product, choice, ground);
    const answer: VerdictAnswer = {
      ...judgement,
      solidFat: judgement.solidFat.map(toHundredths),
      sentences: judgement.findings.map(say),
      ...(explain ? { explanation: explainJudgement(blend, judgement).map(told) } : {}),
    };
    return c.json(answer);
  });
}

/** A hundredth of a point is finer than any of these is known; more digits would only be longer to send. */
function toHundredths(point: SolidFatPoint): SolidFatPoint {
  const round = (value: number) => Math.round(value * 100) / 100;
  const { fresh, settled, low, high } = point;
  return {
    ...point,
    fresh: round(fresh),
    settled: round(settled),
    low: round(low),
    high: round(high),
  };
}

function say(found: Finding): string {
  return sayFinding(found, nameOf);
}

function told(explained: SolidsExplained) {
  return { ...explained, sentence: sayWhy(explained, nameOf) };
}

function nameOf(id: string): string {
  return ingredientById(id)?.name ?? id;
}
