/**
 * What is said of the lots of a run: on the batch's page, on its work order, and where a correction is looked at.
 */
import { type Finding, sayFinding } from "#core/finding.ts";
import type { BlendFigures, JudgedLots } from "#core/make/lot-correction.ts";
import type { IngredientOf } from "../actions/pantry.ts";
import { listFormat } from "../documents/formats.ts";
import type { NameOf } from "../documents/tongue.ts";
import { isSaid, sayIn, speechIn } from "../words/speak.ts";
import type { RunVerdict } from "./correction.ts";
import type { LotFault, LotLine } from "./correction-lots.ts";
import type { BecauseTold, KeptFigures } from "./correction-shape.ts";

const NO_BREAK = "\u00a0";
/** The maker's pages, and what a record keeps. */
const ENGLISH = "en";

/** Names of ingredients; one that nobody knows is named by its id. */
export function namesFrom(ingredientOf: IngredientOf): NameOf {
  return (id) => ingredientOf(id)?.name ?? id;
}

/** What the lots take from the promise of the order, rule by rule. @param locale of who reads it */
export function sayAgainst(
  { against, firmness: { celsius } }: Pick<BlendFigures, "against" | "firmness">,
  nameOf: NameOf,
  locale = ENGLISH,
): string[] {
  return against.map((found) => sayOne(found, celsius, nameOf, locale));
}

function sayOne(found: Finding, celsius: number, nameOf: NameOf, locale: string): string {
  const figure = figureIn(locale);
  const { code, measured, limit } = found;
  switch (code) {
    case "judge.firmness.too-soft":
    case "judge.firmness.too-hard": {
      const firmness = sayIn(locale, `firmness.${String(measured)}`);
      const message = code === "judge.firmness.too-soft" ? "lots.too-soft" : "lots.too-hard";
      return sayIn(locale, message, { firmness, celsius: figure(celsius) });
    }
    case "judge.softens-above.too-low":
      return sayIn(locale, "lots.softens", { measured: figure(measured), limit: figure(limit) });
    default:
      return sayFinding(found, nameOf, speechIn(locale));
  }
}

/** A figure of a finding as its readers write it. */
function figureIn(locale: string): (each: Finding["limit"]) => string {
  const { number } = speechIn(locale);
  return (each = "?") => (typeof each === "number" ? number(each) : each);
}

/** What a correction was made for. */
export function becauseOf(
  { lots: { against, firmness } }: Pick<JudgedLots, "lots">,
  lines: readonly LotLine[],
): BecauseTold {
  const lots = lines.flatMap(({ ingredient, portions }) =>
    portions
      .filter(({ lot }) => lot.certificate !== null)
      .map(({ lot: { code } }) => ({ ingredient, code })),
  );
  return { lots, against, firmness };
}

/** Why a correction was made, as it is kept in English and printed in the language of the bench. */
export function sayBecause(told: BecauseTold, nameOf: NameOf, locale = ENGLISH): string {
  const lots = told.lots.map(({ ingredient, code }) =>
    sayIn(locale, "lots.one", { name: nameOf(ingredient), lot: code }),
  );
  const leaves = sayIn(locale, "lots.because", {
    lots: lots.join(sayIn(locale, "sheet.semicolon")),
  });
  return [leaves, ...sayAgainst(told, nameOf, locale)].join(" ");
}

/** Why nobody can judge: certificates first, then what the judging found. @param locale of who reads it */
export function sayFaults(
  {
    faults,
    findings,
  }: { readonly faults: readonly LotFault[]; readonly findings: readonly Finding[] },
  nameOf: NameOf,
  locale = ENGLISH,
): string[] {
  return [
    ...faults.map((fault) => sayLotFault(fault, nameOf, locale)),
    ...findings.map((found) => sayBenchFinding(found, nameOf, locale)),
  ];
}

function sayLotFault(
  { ingredient, code, lots, findings }: LotFault,
  nameOf: NameOf,
  locale: string,
): string {
  const because = findings.map((found) => ` ${sayBenchFinding(found, nameOf, locale)}`).join("");
  const figures = { name: nameOf(ingredient), lots: listFormat(locale).format(lots), because };
  return sayIn(locale, `lots.fault-${code}`, figures);
}

/** Findings on certificates have no words in the core but English ones: only the bench meets them. */
function sayBenchFinding(found: Finding, nameOf: NameOf, locale: string): string {
  const own = `lots.${found.code}`;
  if (!isSaid(own)) return sayFinding(found, nameOf, speechIn(locale));
  const figure = figureIn(locale);
  const figures = { measured: figure(found.measured), limit: figure(found.limit) };
  return sayIn(locale, own, { subject: nameOf(found.subject), ...figures });
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
        sentences: sayFaults(verdict, nameOf),
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
