/**
 * A supplier's certificate, typed or pasted line by line, and as it is kept.
 */
import type { Ingredient } from "#core/ingredient.ts";
import { sayFinding } from "#core/finding.ts";
import { type Certificate, withCertificate } from "#core/judge/certificate.ts";
import * as z from "zod";
import { type Fault, quoted } from "../typed/fault.ts";

const Figures = z.record(z.string(), z.number());

/** A certificate as the lot keeps it. */
const LotCertificateShape: z.ZodType<Certificate> = z.strictObject({
  fattyAcids: Figures.exactOptional(),
  sn2: Figures.exactOptional(),
  triacylglycerols: Figures.exactOptional(),
  solidFatCurve: z
    .array(
      z.strictObject({
        celsius: z.number(),
        percent: z.number(),
        method: z.string().exactOptional(),
      }),
    )
    .exactOptional(),
});

/** The certificate of a stored lot; nothing when the supplier sent none. */
export function certificateOf(lot: { readonly certificate: string | null }) {
  if (lot.certificate === null) return undefined;
  return LotCertificateShape.parse(JSON.parse(lot.certificate));
}

/** The ingredient as a stored lot is: with its certificate's figures where it has any. */
export function ingredientOfLot(
  lot: { readonly certificate: string | null },
  ingredient: Ingredient,
): Ingredient {
  const certificate = certificateOf(lot);
  return certificate ? withCertificate(ingredient, certificate).ingredient : ingredient;
}

export interface CertificateText {
  readonly fattyAcids: string;
  readonly sn2: string;
  readonly triacylglycerols: string;
  readonly solidFat: string;
}

export const NO_CERTIFICATE: CertificateText = {
  fattyAcids: "",
  sn2: "",
  triacylglycerols: "",
  solidFat: "",
};

const LINES_MOST = 60;
const TABLES = { fattyAcids: "16:0 26.1", sn2: "18:1 80", triacylglycerols: "SOS 27.5" } as const;

/**
 * Read what was typed; the core says whether the figures can be used.
 * @returns the certificate as JSON, or null when nothing was typed
 */
export function readCertificate(
  fields: CertificateText,
  ingredient: Ingredient,
): { readonly read: string | null } | { readonly faults: readonly Fault[] } {
  const faults: Fault[] = [];
  const tables: Partial<Record<keyof typeof TABLES, Record<string, number>>> = {};
  for (const [field, example] of Object.entries(TABLES) as [keyof typeof TABLES, string][]) {
    const lines = linesOf(fields[field], field, example, faults);
    if (lines.length === 0) continue;
    const twice = lines.find(([name], at) => lines.some(([other], i) => i < at && other === name));
    if (twice) faults.push({ field, sentence: `${quoted(twice[0])} stands there twice.` });
    tables[field] = Object.fromEntries(lines);
  }
  const curve = linesOf(fields.solidFat, "solidFat", "20 75.2", faults).map(([at, percent]) => ({
    celsius: Number(at.replace(/\s*°?\s*c$/i, "").replace(",", ".")),
    percent,
  }));
  if (curve.some(({ celsius }) => !Number.isFinite(celsius))) {
    faults.push({ field: "solidFat", sentence: "A line of the curve begins with no temperature." });
  }
  if (tables.sn2 && !tables.fattyAcids) {
    const sentence = "Fatty acids at sn-2 are used together with the fatty acids: add those too.";
    faults.push({ field: "sn2", sentence });
  }
  if (faults.length > 0) return { faults };
  const certificate = { ...tables, ...(curve.length > 0 ? { solidFatCurve: curve } : {}) };
  if (Object.keys(certificate).length === 0) return { read: null };
  const { findings } = withCertificate(ingredient, certificate);
  if (findings.length === 0) return { read: JSON.stringify(certificate) };
  return {
    faults: findings.map((found) => ({
      field: found.code.startsWith("judge.certificate") ? "solidFat" : fieldOf(certificate),
      sentence: sayFinding(found, () => `this lot of ${ingredient.name}`),
    })),
  };
}

function fieldOf({ triacylglycerols }: Certificate): string {
  return triacylglycerols ? "triacylglycerols" : "fattyAcids";
}

/** Name and figure of each line, between them blanks, a tab, a colon, "=" or a semicolon. */
function linesOf(text: string, field: string, example: string, faults: Fault[]) {
  const lines = text.split(/\r?\n/).filter((line) => line.trim() !== "");
  if (lines.length > LINES_MOST) {
    faults.push({ field, sentence: `A certificate has at most ${LINES_MOST} lines here.` });
    return [];
  }
  return lines.flatMap((line): [string, number][] => {
    const match = /^\s*(?:C(?=\d))?(.+?)\s*[\s;=|]\s*(\d+(?:[.,]\d+)?)\s*%?\s*;?\s*$/.exec(line);
    if (match) return [[match[1]!.replace(/[\s:;=|]+$/, ""), Number(match[2]!.replace(",", "."))]];
    const sentence = `The line ${quoted(line.trim())} is not a name and a figure, such as ${example}.`;
    faults.push({ field, sentence });
    return [];
  });
}

/** A kept certificate as text, to be looked at and changed. */
export function certificateText(lot: { readonly certificate: string | null }): CertificateText {
  const certificate = certificateOf(lot) ?? {};
  const table = (figures: Readonly<Record<string, number>> = {}) =>
    Object.entries(figures)
      .map(([name, percent]) => `${name} ${percent}`)
      .join("\n");
  return {
    fattyAcids: table(certificate.fattyAcids),
    sn2: table(certificate.sn2),
    triacylglycerols: table(certificate.triacylglycerols),
    solidFat: (certificate.solidFatCurve ?? [])
      .map(({ celsius, percent }) => `${celsius} ${percent}`)
      .join("\n"),
  };
}
