/**
 * The verdict: may this blend be ordered? Orderable, refused, or cannot judge, always with findings.
 *
 * Firmness is judged on the settled jar with its band: by default the whole band must pass. A finding names what was
 * measured at the edge that failed. No rule is guessed: what is not asked for is not judged.
 */
import { type Blend, WHOLE } from "../blend.ts";
import { type Finding, finding, weightOf } from "../finding.ts";
import { type Band, bandHoldsTo, bandOf } from "./band.ts";
import { compositionFindings } from "./composition.ts";
import { dermalFindings } from "./dermal.ts";
import {
  AIR_FRACTION_GREATEST,
  FIRMNESS_CLASSES,
  type FirmnessClass,
  type FirmnessLaw,
  USUAL_AIR_FRACTION,
  firmnessClass,
  solidFatFrom,
  yieldPa,
} from "./firmness.ts";
import { type Melt, meltOf } from "./melt.ts";
import { type OilPhase, oilPhase } from "./oil-phase.ts";
import type { Oxidation } from "./oxidation.ts";
import type { NamedPlace } from "./places.ts";
import { type PoreRules, type PoreSummary, poreFindings, ratePores } from "./pore-rating.ts";
import { ranOutFindings } from "./ran-out.ts";
import { COLDEST_C, WARMEST_C, settledHoldsTo, slipMeltingC } from "./softening.ts";
import { solidFatPercent, structurePoints } from "./solid-fat.ts";

export interface Rules extends PoreRules {
  /** Firmness classes the settled jar may have at the use temperature; one unbroken run of classes. */
  readonly firmness?: readonly FirmnessClass[];
  /** Least *softens above* [C] */
  readonly softensAboveLeastCelsius?: number;
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
  /** Law of the kitchen the jar is made in; the published one when not said. */
  readonly law?: FirmnessLaw | undefined;
  /** Other places to tell the firmness at; none when not said. */
  readonly places?: readonly NamedPlace[];
}

export interface SolidFatPoint extends Band {
  readonly celsius: number;
  /** [% by mass] */
  readonly fresh: number;
  readonly settled: number;
  /** Points a wax adds to the feel beyond its solids; 0 without wax. */
  readonly structure: number;
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

export interface FirmnessAtPlace extends FirmnessAtUse {
  readonly name: string;
}

export interface Judgement {
  readonly solidFat: readonly SolidFatPoint[];
  readonly firmness?: FirmnessAtUse;
  /** In the order asked for. */
  readonly places?: readonly FirmnessAtPlace[];
  /** [C] */
  readonly softensAboveCelsius?: number;
  /** The same by the lower edge of the band [C] */
  readonly softensAboveLeastCelsius?: number;
  readonly slipMeltingCelsius?: number;
  /** These three are told by `judgeInFull` alone. */
  readonly iodineValue?: number;
  readonly saponificationValue?: number;
  readonly oxidation?: Oxidation;
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
  const poreRating = ratePores(blend, rules);
  const standing = [
    ...questionFindings(question),
    ...blend.parts.flatMap(({ ingredient }) => compositionFindings(ingredient)),
  ];
  const findings = [
    ...standing,
    ...ranOutFindings(blend),
    ...dermalFindings(blend),
    ...poreFindings(blend, rules),
  ];
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
      | "places"
      | "softensAboveCelsius"
      | "softensAboveLeastCelsius"
      | "slipMeltingCelsius"
      | "oilPhase"
    > {
  readonly findings: readonly Finding[];
}

function fatFigures(blend: Blend, melt: Melt, question: Question): FatFigures {
  const { airFraction: air = USUAL_AIR_FRACTION, law, places } = question;
  const band = bandOf(melt);
  const point = (celsius: number): SolidFatPoint => ({
    celsius,
    fresh: solidFatPercent(melt, "fresh", celsius),
    settled: solidFatPercent(melt, "settled", celsius),
    structure: structurePoints(melt, "settled", celsius),
    ...band(celsius),
  });
  const firmnessAt = (celsius: number) => classify(point(celsius), air, law);
  const firmness = firmnessAt(question.useCelsius);
  const body = solidFatFrom("soft", air, law);
  const softens = settledHoldsTo(melt, body);
  const softensLeast = bandHoldsTo(melt, body);
  const slip = slipMeltingC(melt);
  return {
    solidFat: question.celsius.map(point),
    firmness,
    ...(places
      ? { places: places.map(({ name, celsius }) => ({ name, ...firmnessAt(celsius) })) }
      : {}),
    ...(softens === undefined ? {} : { softensAboveCelsius: softens }),
    ...(softensLeast === undefined ? {} : { softensAboveLeastCelsius: softensLeast }),
    ...(slip === undefined ? {} : { slipMeltingCelsius: slip }),
    oilPhase: oilPhase(blend, melt),
    findings: [
      ...firmnessFindings(firmness, question.rules ?? {}),
      ...softeningFindings(softens, softensLeast, question.rules ?? {}),
    ],
  };
}

function classify(point: SolidFatPoint, air: number, law?: FirmnessLaw): FirmnessAtUse {
  const { structure } = point;
  const classOf = (solids: number) => firmnessClass(yieldPa(solids, air, law));
  return {
    celsius: point.celsius,
    fresh: classOf(point.fresh + structure),
    settled: classOf(point.settled + structure),
    yieldPa: yieldPa(point.settled + structure, air, law),
    lowest: classOf(point.low),
    highest: classOf(point.high + 2 * structure),
  };
}

function firmnessFindings(firmness: FirmnessAtUse, rules: Rules): Finding[] {
  const window = rules.firmness;
  if (!window || window.length === 0) return [];
  const { settled, celsius: limit } = firmness;
  const central = rules.strictness === "central";
  const lowest = central ? settled : firmness.lowest;
  const highest = central ? settled : firmness.highest;
  const findings: Finding[] = [];
  if (rank(lowest) < Math.min(...window.map(rank))) {
    findings.push(finding("judge.firmness.too-soft", "blend", { measured: lowest, limit }));
  }
  if (rank(highest) > Math.max(...window.map(rank))) {
    findings.push(finding("judge.firmness.too-hard", "blend", { measured: highest, limit }));
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

function questionFindings(question: Question): Finding[] {
  const { celsius, useCelsius, airFraction = 0, places = [] } = question;
  const asked = new Set([...celsius, useCelsius, ...places.map((place) => place.celsius)]);
  const temperatures = [...asked]
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
