/**
 * `softset judge FILE`: a blend as JSON in, its judgement as JSON out.
 */
import { type Part, makeBlend, shareFromPercent } from "#core/blend.ts";
import { type Finding, finding, sayFinding } from "#core/finding.ts";
import type { Composition, Ingredient } from "#core/ingredient.ts";
import { type Judgement, USUAL_ROOM_C, judgeBlend } from "#core/judge/verdict.ts";
import { ingredientById } from "#data/library.ts";
import { readFileSync } from "node:fs";
import * as z from "zod";
import { Refusal } from "../problem.ts";
import { RulesShape } from "../shapes.ts";

const Percents = z.record(z.string(), z.number());

const PartShape = z.union([
  z.strictObject({ ingredient: z.string().min(1), percent: z.number() }),
  z.strictObject({
    name: z.string().min(1),
    percent: z.number(),
    fattyAcids: Percents,
    sn2: Percents.optional(),
    poreRating: z.number().min(0).max(5).optional(),
  }),
  z.strictObject({
    name: z.string().min(1),
    percent: z.number(),
    triacylglycerols: Percents,
    poreRating: z.number().min(0).max(5).optional(),
  }),
]);

const RequestShape = z.strictObject({
  parts: z.array(PartShape).min(1),
  celsius: z.array(z.number()).max(500).default([10, 20, 25, 30, 35]),
  airFraction: z.number().exactOptional(),
  use: z.strictObject({ celsius: z.number() }).default({ celsius: USUAL_ROOM_C }),
  rules: RulesShape.exactOptional(),
});

type JudgeInput = z.infer<typeof RequestShape>;

/**
 * Judge the blend in a file.
 * @param rest one file name, or "-" for standard input
 * @returns the answer as JSON text
 * @throws Refusal when the file cannot be read or does not describe a blend
 */
export async function judgeCommand(rest: readonly string[]): Promise<string> {
  const [file] = rest;
  if (rest.length !== 1 || file === undefined) {
    throw new Refusal("request.command.unusable", "Say which file to judge: softset judge FILE");
  }
  return `${JSON.stringify(answer(readInput(file)), null, 2)}\n`;
}

function readInput(file: string): JudgeInput {
  let text: string;
  try {
    text = readFileSync(file === "-" ? 0 : file, "utf8");
  } catch (cause) {
    throw new Refusal("request.command.unusable", `The file ${file} cannot be read.`, { cause });
  }
  let json: unknown;
  try {
    json = JSON.parse(text);
  } catch (cause) {
    throw new Refusal("request.body.malformed", "The input is not valid JSON.", { cause });
  }
  const parsed = RequestShape.safeParse(json);
  if (parsed.success) return parsed.data;
  throw new Refusal("request.body.invalid", "The input lacks something or holds something extra.", {
    errors: parsed.error.issues.map(({ path, message }) => ({
      pointer: path.map((step) => `/${String(step)}`).join(""),
      detail: message,
    })),
  });
}

function answer(input: JudgeInput) {
  const made = makeBlend(partsOf(input));
  if ("findings" in made) throw refuse(made.findings);
  const judgement = judgeBlend(made.blend, {
    celsius: input.celsius,
    useCelsius: input.use.celsius,
    ...(input.airFraction === undefined ? {} : { airFraction: input.airFraction }),
    ...(input.rules === undefined ? {} : { rules: input.rules }),
  });
  return report(judgement);
}

function partsOf(input: JudgeInput): Part[] {
  const findings: Finding[] = [];
  const parts: Part[] = [];
  for (const [at, part] of input.parts.entries()) {
    const subject = nameOf(part);
    const isTaken = input.parts.some((other, before) => before < at && nameOf(other) === subject);
    const ingredient =
      "ingredient" in part
        ? ingredientById(part.ingredient)
        : describedBy(part, isTaken ? `${subject} (${at + 1})` : subject);
    const share = shareFromPercent(part.percent);
    if (!ingredient) findings.push(finding("compose.ingredient.unknown", subject));
    if (share === undefined) {
      findings.push(finding("compose.share.not-a-share", subject, { measured: part.percent }));
    }
    if (ingredient && share !== undefined) parts.push({ ingredient, share });
  }
  if (findings.length > 0) throw refuse(findings);
  return parts;
}

function nameOf(part: z.infer<typeof PartShape>): string {
  return "ingredient" in part ? part.ingredient : part.name;
}

/** A fat the caller describes: not in the library, so without INCI name and, unless given, without a pore rating. */
function describedBy(
  part: Exclude<z.infer<typeof PartShape>, { ingredient: string }>,
  name: string,
): Ingredient {
  const { poreRating } = part;
  const composition: Composition =
    "fattyAcids" in part
      ? {
          kind: "fatty-acids",
          percent: part.fattyAcids,
          ...(part.sn2 === undefined ? {} : { sn2: part.sn2 }),
        }
      : { kind: "triacylglycerols", percent: part.triacylglycerols };
  return {
    id: name,
    name,
    inci: name,
    kind: "butter",
    composition,
    poreRating:
      poreRating === undefined
        ? { rated: false }
        : { rated: true, value: poreRating, low: poreRating, high: poreRating },
    allergenFamilies: [],
  };
}

function report(judgement: Judgement) {
  const { firmness, poreRating, oilPhase } = judgement;
  return {
    solidFat: judgement.solidFat.map(({ celsius, fresh, settled, low, high }) => ({
      celsius,
      fresh: round(fresh, 2),
      settled: round(settled, 2),
      low: round(low, 2),
      high: round(high, 2),
    })),
    firmness: firmness
      ? {
          celsius: firmness.celsius,
          fresh: firmness.fresh,
          settled: firmness.settled,
          yieldPa: round(firmness.yieldPa, 0),
          lowest: firmness.lowest,
          highest: firmness.highest,
        }
      : null,
    softensAboveCelsius: orNull(judgement.softensAboveCelsius, 1),
    softensAboveLeastCelsius: orNull(judgement.softensAboveLeastCelsius, 1),
    slipMeltingCelsius: orNull(judgement.slipMeltingCelsius, 1),
    iodineValue: orNull(judgement.iodineValue, 1),
    saponificationValue: orNull(judgement.saponificationValue, 1),
    poreRating: {
      highest: poreRating.highest?.value ?? null,
      mean: orNull(poreRating.mean, 2),
      unrated: poreRating.unrated,
    },
    oilPhase: oilPhase
      ? { viscosityMm2PerS: round(oilPhase.viscosityMm2PerS, 1), step: oilPhase.step }
      : null,
    verdict: judgement.verdict,
    findings: judgement.findings.map((found) => ({
      ...found,
      sentence: sayFinding(found, (id) => ingredientById(id)?.name ?? id),
    })),
  };
}

function refuse(findings: readonly Finding[]): Refusal {
  const detail = findings.map((found) => sayFinding(found)).join(" ");
  return new Refusal("compose.choice.refused", detail, { findings });
}

function orNull(value: number | undefined, decimals: number): number | null {
  return value === undefined ? null : round(value, decimals);
}

function round(value: number, decimals: number): number {
  return Number(value.toFixed(decimals));
}
