/**
 * What is said of the lots of a run: on the batch's page, on its work order, and where a correction is looked at.
 */
import { type Finding, sayFinding } from "#core/finding.ts";
import type { BlendFigures, JudgedLots } from "#core/make/lot-correction.ts";
import type { IngredientOf } from "../actions/pantry.ts";
import type { RunVerdict } from "./correction.ts";
import type { LotFault, LotLine } from "./correction-lots.ts";
import type { KeptFigures } from "./correction-shape.ts";

const NO_BREAK = "\u00a0";

export type NameOf = (id: string) => string;

/** Names of ingredients; one that nobody knows is named by its id. */
export function namesFrom(ingredientOf: IngredientOf): NameOf {
  return (id) => ingredientOf(id)?.name ?? id;
}

/** What the lots take from the promise of the order, rule by rule: "It is fluid at 21 °C, and …" */
export function sayAgainst({ against, firmness }: BlendFigures, nameOf: NameOf): string[] {
  return against.map((found) => sayOne(found, firmness.celsius, nameOf));
}

function sayOne(found: Finding, celsius: number, nameOf: NameOf): string {
  const { code, measured, limit } = found;
  switch (code) {
    case "judge.firmness.too-soft":
      return `It may come out ${String(measured)} at ${celsius}${NO_BREAK}°C, softer than was promised.`;
    case "judge.firmness.too-hard":
      return `It may come out ${String(measured)} at ${celsius}${NO_BREAK}°C, harder than was promised.`;
    case "judge.softens-above.too-low":
      return (
        `It may lose its body above ${String(measured)}${NO_BREAK}°C; ` +
        `the order was promised ${String(limit)}${NO_BREAK}°C.`
      );
    default:
      return sayFinding(found, nameOf);
  }
}

/** Lots with a certificate, for a sentence: "Shea butter, lot TB-2207". */
function certifiedWords(lines: readonly LotLine[]): string {
  return lines
    .flatMap(({ name, portions }) =>
      portions
        .filter(({ lot }) => lot.certificate !== null)
        .map(({ lot }) => `${name}, lot ${lot.code}`),
    )
    .join("; ");
}

/** Why nobody can judge: certificates first, then what the judging found. */
export function sayFaults(
  faults: readonly LotFault[],
  findings: readonly Finding[],
  nameOf: NameOf,
): string[] {
  return [
    ...faults.map(({ sentence }) => sentence),
    ...findings.map((found) => sayFinding(found, nameOf)),
  ];
}

/** Stated in a word before it is explained, so that nothing hangs on colour. */
export interface VerdictWords {
  readonly mark: string;
  readonly sentences: readonly string[];
  /** Whether somebody has to look before anything is weighed. */
  readonly isUrgent: boolean;
}

/** @returns nothing where nobody asked */
export function sayVerdict(verdict: RunVerdict, nameOf: NameOf): VerdictWords | undefined {
  switch (verdict.kind) {
    case "not-asked":
      return undefined;
    case "no-certificate":
      return {
        mark: "Lots not judged",
        sentences: [
          "None of the lots suggested has a certificate, so how they differ from the library’s figures is not known. " +
            "The blend stands as it was ordered.",
        ],
        isUrgent: false,
      };
    case "cannot-judge":
      return {
        mark: "Cannot judge these lots",
        sentences: sayFaults(verdict.faults, verdict.findings, nameOf),
        isUrgent: true,
      };
    case "holds":
      return {
        mark: "Lots judged",
        sentences: [`With these lots it keeps what was promised: ${sayFeel(verdict.lots)}.`],
        isUrgent: false,
      };
    case "leaves":
      return {
        mark: "These lots leave the promise",
        sentences: sayAgainst(verdict.lots, nameOf),
        isUrgent: true,
      };
  }
}

/** "soft at 21 °C, softens above 26.0 °C" */
function sayFeel(figures: KeptFigures): string {
  return `${sayFirmness(figures)}, ${saySoftens(figures)}`;
}

/** "soft (fluid to soft) at 21 °C" */
export function sayFirmness({ firmness }: KeptFigures): string {
  const { settled, lowest, highest, celsius } = firmness;
  const spread = lowest === highest ? "" : ` (${lowest} to ${highest})`;
  return `${settled}${spread} at ${celsius}${NO_BREAK}°C`;
}

/** Rounded down, because a limit of warmth is never rounded up. */
export function saySoftens({ softensAboveC, softensAboveLeastC }: KeptFigures): string {
  if (softensAboveC === undefined) return "no body at any temperature judged";
  const tenths = (celsius: number) => `${(Math.floor(celsius * 10) / 10).toFixed(1)}${NO_BREAK}°C`;
  const worst =
    softensAboveLeastC === undefined ? "" : ` (at the worst ${tenths(softensAboveLeastC)})`;
  return `softens above ${tenths(softensAboveC)}${worst}`;
}

/** "24.1 % (22.0 to 26.3)" */
export function saySolidFat({ solidFat: { settled, low, high } }: KeptFigures): string {
  const one = (percent: number) => percent.toFixed(1);
  return `${one(settled)}${NO_BREAK}% (${one(low)} to ${one(high)})`;
}

/** Why a correction was made, as it is kept and printed. */
export function sayBecause(
  { lots }: Pick<JudgedLots, "lots">,
  lines: readonly LotLine[],
  nameOf: NameOf,
): string {
  const leaves = `With ${certifiedWords(lines)}, the blend as ordered leaves its promise.`;
  return [leaves, ...sayAgainst(lots, nameOf)].join(" ");
}
