/**
 * A choice in, its verdict out; nothing is stored.
 */
import { type Finding, sayFinding } from "#core/finding.ts";
import type { VerdictAnswer } from "#core/wire.ts";
import { ingredientById } from "#data/library.ts";
import { Hono } from "hono";
import { judgeChoice } from "../actions/judge-choice.ts";
import type { Offers } from "../actions/offer.ts";
import { readJson } from "../middleware.ts";
import { JudgeRequestShape } from "../shapes.ts";

export function judgeRoutes(offers: Offers) {
  return new Hono().post("/verdicts", async (c) => {
    const { product, choice } = await readJson(c, JudgeRequestShape);
    const offer = await offers.of(product);
    const { judgement } = judgeChoice(offer.wire.product, choice);
    const answer: VerdictAnswer = { ...judgement, sentences: judgement.findings.map(say) };
    return c.json(answer);
  });
}

function say(found: Finding): string {
  return sayFinding(found, (id) => ingredientById(id)?.name ?? id);
}
