/**
 * The verdict: may this blend be ordered? Orderable, refused, or cannot judge, always with findings.
 *
 * Firmness is judged on the settled jar with its band: by default the whole band must pass. A finding names what was
 * measured at the edge that failed. No rule is guessed: what is not asked for is not judged.
 */
import { type Blend, WHOLE } from "../blend.ts";
import { type Finding, finding, weightOf } from "../finding.ts";
import { type Band, around, bandOf } from "./band.ts";
import { characteristicValues } from "./characteristic-values.ts";
import { compositionFindings } from "./composition.ts";
import {
  AIR_FRACTION_GREATEST,
  FIRMNESS_CLASSES,
  type FirmnessClass,
  USUAL_AIR_FRACTION,
  firmnessClass,
  solidFatFrom,
  yieldPa,
} from "./firmness.ts";
import { type Melt, meltOf } from "./melt.ts";
import { type OilPhase, oilPhase } from "./oil-phase.ts";
import { type PoreReading, type PoreSummary, ratePores } from "./pore-rating.ts";
import { COLDEST_C, WARMEST_C, settledHoldsTo, slipMeltingC } from "./softening.ts";
import { solidFatPercent } from "./solid-fat.ts";

export interface Rules {
  /** Firmness classes the settled jar may have at the use temperature; one unbroken run of classes. */
  readonly firmness?: readonly FirmnessClass[];
  /** Least *softens above* [C] */
  readonly softensAboveLeastCelsius?: number;
  /** Highest pore rating accepted, 0 to 5. */
  readonly poreRatingMost?: number;
  /** Which end of a disputed rating counts; the chosen value when not said. */
  readonly poreReading?: PoreReading;
  /** What an unrated ingredient does when a ceiling is set; leaves the verdict undecided when not said. */
  readonly unrated?: "cannot-judge" | "tell";
  /** Whether the whole uncertainty band or only the central value must pass; the whole band when not said. */
  readonly strictness?: "whole-band" | "central";
}

export interface Question {
  /** Temperatures of the solid fat curve [C] */
  readonly celsius: readonly number[];
  /** Room temperature at which firmness is judged [C] */
  readonly useCelsius: number;
  /** Volume fraction of air in the whipped jar; 0.35 when not said. */
  readonly airFraction?: number;
  readonly rules?: Rules;
}

export interface SolidFatPoint extends Band {
  readonly celsius: number;
  /** [% by mass] */
  readonly fresh: number;
  readonly settled: number;
}

export interface FirmnessAtUse {
  readonly celsius: number;
  readonly fresh: FirmnessClass;
  readonly settled: FirmnessClass;
  /** Settled yield value [Pa] */
  readonly yieldPa: number;
  /** Classes the settled band reaches. */
  readonly lowest: FirmnessClass;
  readonly highest: FirmnessClass;
}

export interface Judgement {
  readonly solidFat: readonly SolidFatPoint[];
  readonly firmness?: FirmnessAtUse;
  /** [C] */
  readonly softensAboveCelsius?: number;
  /** The same by the lower edge of the band [C] */
  readonly softensAboveLeastCelsius?: number;
  readonly slipMeltingCelsius?: number;
  readonly iodineValue?: number;
  readonly saponificationValue?: number;
  readonly poreRating: PoreSummary;
  readonly oilPhase?: OilPhase;
  readonly verdict: "orderable" | "refused" | "cannot-judge";
  readonly findings: readonly Finding[];
}

/** Room temperature when nobody said: 21 C, an ordinary heated room (common practice, no source). */
export const USUAL_ROOM_C = 21;

/**
 * Judge a blend.
 * @param blend shares sum to the whole
 * @param question temperatures [C], air fraction [-] and the maker's rules
 */
export function judgeBlend(blend: Blend, question: Question): Judgement {
  const rules = question.rules ?? {};
  const poreRating = ratePores(blend, rules.poreReading);
  const standing = [
    ...questionFindings(question),
    ...blend.parts.flatMap(({ ingredient }) => compositionFindings(ingredient)),
  ];
  const findings = [...standing, ...poreFindings(blend, poreRating, rules)];
  if (standing.length > 0) return gather(blend, poreRating, findings);
  const melt = meltOf(blend);
  if (!melt) {
    return gather(blend, poreRating, [...findings, finding("judge.solid-fat.no-fat", "blend")]);
  }
  return gather(blend, poreRating, findings, fatFigures(blend, melt, question));
}

interface FatFigures
  extends
    Required<Pick<Judgement, "solidFat" | "firmness">>,
    Pick<
      Judgement,
      | "softensAboveCelsius"
      | "softensAboveLeastCelsius"
      | "slipMeltingCelsius"
      | "iodineValue"
      | "saponificationValue"
      | "oilPhase"
    > {
  readonly findings: readonly Finding[];
}

function fatFigures(blend: Blend, melt: Melt, question: Question): FatFigures {
  const air = question.airFraction ?? USUAL_AIR_FRACTION;
  const halfWidth = bandOf(melt);
  const point = (celsius: number): SolidFatPoint => {
    const settled = solidFatPercent(melt, "settled", celsius);
    const fresh = solidFatPercent(melt, "fresh", celsius);
    return { celsius, fresh, settled, ...around(settled, halfWidth(celsius)) };
  };
  const atUse = point(question.useCelsius);
  const body = solidFatFrom("soft", air);
  const softens = settledHoldsTo(melt, body);
  const softensLeast = settledHoldsTo(melt, body, halfWidth);
  const values = characteristicValues(blend);
  const phase = oilPhase(blend, melt);
  const slip = slipMeltingC(melt);
  return {
    solidFat: question.celsius.map(point),
    firmness: firmnessAt(atUse, air),
    ...(softens === undefined ? {} : { softensAboveCelsius: softens }),
    ...(softensLeast === undefined ? {} : { softensAboveLeastCelsius: softensLeast }),
    ...(slip === undefined ? {} : { slipMeltingCelsius: slip }),
    ...(values ?? {}),
    ...(phase ? { oilPhase: phase } : {}),
    findings: [
      ...firmnessFindings(atUse, air, question),
      ...softeningFindings(softens, softensLeast, question.rules ?? {}),
    ],
  };
}

function firmnessAt(point: SolidFatPoint, air: number): FirmnessAtUse {
  const classOf = (solids: number) => firmnessClass(yieldPa(solids, air));
  return {
    celsius: point.celsius,
    fresh: classOf(point.fresh),
    settled: classOf(point.settled),
    yieldPa: yieldPa(point.settled, air),
    lowest: classOf(point.low),
    highest: classOf(point.high),
  };
}

function firmnessFindings(point: SolidFatPoint, air: number, question: Question): Finding[] {
  const window = question.rules?.firmness;
  if (!window || window.length === 0) return [];
  const central = question.rules?.strictness === "central";
  const low = rank(firmnessClass(yieldPa(central ? point.settled : point.low, air)));
  const high = rank(firmnessClass(yieldPa(central ? point.settled : point.high, air)));
  const findings: Finding[] = [];
  if (low < Math.min(...window.map(rank))) {
    const measured = FIRMNESS_CLASSES[low]!;
    findings.push(
      finding("judge.firmness.too-soft", "blend", { measured, limit: question.useCelsius }),
    );
  }
  if (high > Math.max(...window.map(rank))) {
    const measured = FIRMNESS_CLASSES[high]!;
    findings.push(
      finding("judge.firmness.too-hard", "blend", { measured, limit: question.useCelsius }),
    );
  }
  return findings;
}

function softeningFindings(
  softens: number | undefined,
  softensLeast: number | undefined,
  rules: Rules,
): Finding[] {
  const limit = rules.softensAboveLeastCelsius;
  if (limit === undefined) return [];
  const edge = (rules.strictness === "central" ? softens : softensLeast) ?? COLDEST_C;
  if (edge >= limit) return [];
  const measured = Math.floor(edge * 10) / 10; // never printed as the limit it misses
  return [finding("judge.softens-above.too-low", "blend", { measured, limit, unit: "°C" })];
}

function poreFindings(blend: Blend, summary: PoreSummary, rules: Rules): Finding[] {
  const limit = rules.poreRatingMost;
  if (limit === undefined) {
    return summary.unrated.map((id) => finding("judge.pore-rating.unrated-told", id));
  }
  const reading = rules.poreReading ?? "value";
  const above = blend.parts.flatMap(({ ingredient }) => {
    const rating = ingredient.poreRating;
    if (!rating.rated || rating[reading] <= limit) return [];
    const measured = rating[reading];
    return [finding("judge.pore-rating.above-limit", ingredient.id, { measured, limit })];
  });
  const code =
    rules.unrated === "tell" ? "judge.pore-rating.unrated-told" : "judge.pore-rating.unrated";
  return [...above, ...summary.unrated.map((id) => finding(code, id))];
}

function questionFindings({ celsius, useCelsius, airFraction = 0 }: Question): Finding[] {
  const temperatures = [...celsius, useCelsius]
    .filter((each) => !(each >= COLDEST_C && each <= WARMEST_C))
    .map((each) =>
      finding("judge.temperature.out-of-range", "temperature", { measured: each, unit: "°C" }),
    );
  if (airFraction >= 0 && airFraction <= AIR_FRACTION_GREATEST) return temperatures;
  const figures = { measured: airFraction, limit: AIR_FRACTION_GREATEST };
  return [...temperatures, finding("judge.air.out-of-range", "airFraction", figures)];
}

function gather(
  blend: Blend,
  poreRating: PoreSummary,
  before: readonly Finding[],
  figures?: FatFigures,
): Judgement {
  const findings = [...before, ...(figures?.findings ?? [])];
  if (blend.parts.reduce((sum, { share }) => sum + share, 0) !== WHOLE) {
    throw new Error("a blend must be made by makeBlend, which checks its shares");
  }
  const weights = findings.map(weightOf);
  const verdict = weights.includes("refuses")
    ? "refused"
    : weights.includes("cannot-judge")
      ? "cannot-judge"
      : "orderable";
  return { solidFat: [], ...figures, poreRating, verdict, findings };
}

function rank(firmness: FirmnessClass): number {
  return FIRMNESS_CLASSES.indexOf(firmness);
}
