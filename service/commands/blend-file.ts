/**
 * A blend and a question about it, as a file or standard input holds them: what `softset judge` and `softset explain`
 * read.
 */
import { type Blend, type Part, makeBlend, shareFromPercent } from "#core/blend.ts";
import { type Finding, finding, sayFinding } from "#core/finding.ts";
import type { Composition, Ingredient } from "#core/ingredient.ts";
import { withCertificate } from "#core/judge/certificate.ts";
import { USUAL_ROOM_C } from "#core/judge/verdict.ts";
import { ingredientById } from "#data/library.ts";
import { readFileSync } from "node:fs";
import * as z from "zod";
import { Refusal } from "../problem.ts";
import { RulesShape } from "../shapes.ts";

const Percents = z.record(z.string(), z.number());

/** A lot's own solid fat, as its certificate prints it. */
const SolidFatCurve = z.array(
  z.strictObject({
    celsius: z.number(),
    percent: z.number(),
    method: z.string().exactOptional(),
  }),
);

const PartShape = z.union([
  z.strictObject({
    ingredient: z.string().min(1),
    percent: z.number(),
    solidFatCurve: SolidFatCurve.exactOptional(),
  }),
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
  places: z
    .array(z.strictObject({ name: z.string().min(1), celsius: z.number() }))
    .max(50)
    .exactOptional(),
  rules: RulesShape.exactOptional(),
});

export type BlendInput = z.infer<typeof RequestShape>;

/** What a file asks: its blend, made and checked, beside the rest of the input. */
export interface BlendFile {
  readonly blend: Blend;
  readonly input: BlendInput;
}

/**
 * Read the one file a command names.
 * @param command for the sentence that says what is missing
 * @param rest one file name, or "-" for standard input
 * @throws Refusal when the file cannot be read or does not describe a blend
 */
export function readBlend(command: string, rest: readonly string[]): BlendFile {
  const [file] = rest;
  if (rest.length !== 1 || file === undefined) {
    const detail = `Say which file to ${command}: softset ${command} FILE`;
    throw new Refusal("request.command.unusable", detail);
  }
  const input = readInput(file);
  const made = makeBlend(partsOf(input));
  if ("findings" in made) throw refuse(made.findings);
  return { blend: made.blend, input };
}

/** The name people use for a library ingredient; a described fat goes by its own. */
export function nameOfIngredient(id: string): string {
  return ingredientById(id)?.name ?? id;
}

function readInput(file: string): BlendInput {
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

function partsOf(input: BlendInput): Part[] {
  const findings: Finding[] = [];
  const parts: Part[] = [];
  for (const [at, part] of input.parts.entries()) {
    const subject = nameOf(part);
    const isTaken = input.parts.some((other, before) => before < at && nameOf(other) === subject);
    const ingredient =
      "ingredient" in part
        ? fromLibrary(part, findings)
        : describedBy(part, isTaken ? `${subject} (${at + 1})` : subject);
    const share = shareFromPercent(part.percent);
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

/** A library ingredient, with the certificate of the lot where the caller brings one. */
function fromLibrary(
  { ingredient: id, solidFatCurve }: Extract<z.infer<typeof PartShape>, { ingredient: string }>,
  findings: Finding[],
): Ingredient | undefined {
  const ingredient = ingredientById(id);
  if (!ingredient) findings.push(finding("compose.ingredient.unknown", id));
  if (!ingredient || !solidFatCurve) return ingredient;
  const lot = withCertificate(ingredient, { solidFatCurve });
  if ("ingredient" in lot) return lot.ingredient;
  findings.push(...lot.findings);
  return undefined;
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

function refuse(findings: readonly Finding[]): Refusal {
  const detail = findings.map((found) => sayFinding(found)).join(" ");
  return new Refusal("compose.choice.refused", detail, { findings });
}
