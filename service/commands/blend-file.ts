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
import { pointerTo } from "../typed/pointers.ts";

/** A script's NaN arrives as null, because JSON has no word for it; what judges the blend says what is wrong. */
const Figure = z
  .number()
  .nullable()
  .transform((figure) => figure ?? NaN);

const Percents = z.record(z.string(), Figure);

/** A lot's own solid fat, as its certificate prints it. */
const SolidFatCurve = z.array(
  z.strictObject({
    celsius: Figure,
    percent: Figure,
    method: z.string().exactOptional(),
  }),
);

const PartShape = z.union([
  z.strictObject({
    ingredient: z.string().min(1),
    percent: z.number(),
    solidFatCurve: SolidFatCurve.exactOptional(),
  }),
  // Without a composition nothing is known of its fat: the blend can be weighed out, and not judged.
  z
    .strictObject({
      name: z.string().min(1),
      percent: z.number(),
      fattyAcids: Percents.exactOptional(),
      sn2: Percents.exactOptional(),
      triacylglycerols: Percents.exactOptional(),
      poreRating: z.number().min(0).max(5).exactOptional(),
    })
    .refine(
      ({ fattyAcids, sn2, triacylglycerols }) =>
        triacylglycerols === undefined
          ? fattyAcids !== undefined || sn2 === undefined
          : fattyAcids === undefined && sn2 === undefined,
      "Say fattyAcids, with sn2 or without, or triacylglycerols, not both.",
    ),
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
  /** What stands against the certificates of its lots. Such a lot is in the blend with no composition. */
  readonly certificates: readonly Finding[];
  readonly input: BlendInput;
  /** In the order of the input, empty ones and those of the same ingredient among them. */
  readonly parts: readonly Part[];
}

/**
 * Read the one file a command names.
 * @param command for the sentence that says what is missing
 * @param rest one file name, or "-" for standard input
 * @throws Refusal when the file cannot be read or does not describe a blend
 */
export function readBlend(command: string, rest: readonly string[]): BlendFile {
  return blendOf(readJson(command, rest));
}

/**
 * The JSON of the one file a command names.
 * @throws Refusal when the file cannot be read or holds no JSON
 */
export function readJson(command: string, rest: readonly string[]): unknown {
  const [file] = rest;
  if (rest.length !== 1 || file === undefined) {
    const detail = `Say which file to ${command}: softset ${command} FILE`;
    throw new Refusal("request.command.unusable", detail);
  }
  let text: string;
  try {
    text = readFileSync(file === "-" ? 0 : file, "utf8");
  } catch (cause) {
    throw new Refusal("request.command.unusable", `The file ${file} cannot be read.`, { cause });
  }
  try {
    return JSON.parse(text);
  } catch (cause) {
    throw new Refusal("request.body.malformed", "The input is not valid JSON.", { cause });
  }
}

/**
 * The blend that JSON describes.
 * @throws Refusal when it describes none
 */
export function blendOf(json: unknown): BlendFile {
  const input = readInput(json);
  const found: Finding[] = [];
  const parts = partsOf(input, found);
  const made = makeBlend(parts);
  if ("findings" in made) throw refuse(made.findings);
  const present = new Set(made.blend.parts.map(({ ingredient }) => ingredient.id));
  const certificates = found.filter(({ subject }) => present.has(subject));
  return { blend: made.blend, certificates, input, parts };
}

/** The findings of a judgement, with what is wrong with a certificate in place of the gap it leaves. */
export function withCertificates(
  findings: readonly Finding[],
  certificates: readonly Finding[],
): Finding[] {
  const explained = new Set(certificates.map(({ subject }) => subject));
  const isGap = ({ code, subject }: Finding) =>
    code === "judge.solid-fat.figure-missing" && explained.has(subject);
  return [...certificates, ...findings.filter((found) => !isGap(found))];
}

/** The name people use for a library ingredient; a described fat goes by its own. */
export function nameOfIngredient(id: string): string {
  return ingredientById(id)?.name ?? id;
}

function readInput(json: unknown): BlendInput {
  const parsed = RequestShape.safeParse(json);
  if (parsed.success) return parsed.data;
  throw new Refusal("request.body.invalid", "The input lacks something or holds something extra.", {
    errors: parsed.error.issues.flatMap((issue) => pointAt(issue)),
  });
}

/** Where the trouble is; of a part that may be several things, in the one it comes nearest to. */
function pointAt(
  issue: z.core.$ZodIssue,
  above: readonly PropertyKey[] = [],
): { pointer: string; detail: string }[] {
  const path = [...above, ...issue.path];
  if (issue.code === "invalid_union" && issue.errors.length > 0) {
    const [nearest] = [...issue.errors].sort((one, other) => one.length - other.length);
    return nearest!.flatMap((inner) => pointAt(inner, path));
  }
  return [{ pointer: pointerTo(path), detail: issue.message }];
}

/** @param certificates takes up what stands against the certificates of lots */
function partsOf(input: BlendInput, certificates: Finding[]): Part[] {
  const findings: Finding[] = [];
  const parts: Part[] = [];
  for (const [at, part] of input.parts.entries()) {
    const subject = nameOf(part);
    const same = input.parts.filter((other) => nameOf(other) === subject);
    const name = same[0] === part ? subject : `${subject} (${at + 1})`;
    let ingredient: Ingredient | undefined;
    if ("ingredient" in part) {
      ingredient = ingredientById(part.ingredient);
      if (!ingredient) findings.push(finding("compose.ingredient.unknown", subject));
      // Two lots of one butter are two fats, once one of them was measured.
      else if (same.some((other) => "solidFatCurve" in other)) {
        const lot = { ...ingredient, id: name };
        ingredient = certified(lot, part.solidFatCurve, certificates);
      }
    } else {
      ingredient = describedBy(part, name);
    }
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

/** The lot as its certificate has it, where it brings one. */
function certified(
  lot: Ingredient,
  solidFatCurve: z.infer<typeof SolidFatCurve> | undefined,
  certificates: Finding[],
): Ingredient {
  if (!solidFatCurve) return lot;
  const { ingredient, findings } = withCertificate(lot, { solidFatCurve });
  certificates.push(...findings);
  return ingredient;
}

/** A fat the caller describes: not in the library, so without INCI name and, unless given, without a pore rating. */
function describedBy(
  part: Exclude<z.infer<typeof PartShape>, { ingredient: string }>,
  name: string,
): Ingredient {
  const { poreRating } = part;
  return {
    id: name,
    name,
    inci: name,
    kind: "butter",
    composition: compositionOf(part),
    poreRating:
      poreRating === undefined
        ? { rated: false }
        : { rated: true, value: poreRating, low: poreRating, high: poreRating },
    allergenFamilies: [],
  };
}

function compositionOf({
  fattyAcids,
  sn2,
  triacylglycerols,
}: Exclude<z.infer<typeof PartShape>, { ingredient: string }>): Composition {
  if (triacylglycerols) return { kind: "triacylglycerols", percent: triacylglycerols };
  if (!fattyAcids) return { kind: "unknown" };
  return { kind: "fatty-acids", percent: fattyAcids, ...(sn2 ? { sn2 } : {}) };
}

function refuse(findings: readonly Finding[]): Refusal {
  const detail = findings.map((found) => sayFinding(found)).join(" ");
  return new Refusal("compose.choice.refused", detail, { findings });
}
