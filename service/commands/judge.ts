/**
 * `softset judge FILE`: a blend as JSON in, its judgement as JSON out.
 */
import type { Blend } from "#core/blend.ts";
import { sayFinding } from "#core/finding.ts";
import { LEAVE_ON_PERCENT, fragranceOf } from "#core/judge/fragrance.ts";
import { type OilPhase, VISCOSITY_ERROR_PERCENT } from "#core/judge/oil-phase.ts";
import { OXIDATION_WORDS } from "#core/judge/oxidation-words.ts";
import type { Oxidation } from "#core/judge/oxidation.ts";
import { listPores } from "#core/judge/pore-list.ts";
import type { PoreRules } from "#core/judge/pore-rating.ts";
import { PORE_WORDS } from "#core/judge/pore-words.ts";
import { usualPlaces } from "#core/judge/places.ts";
import type { FirmnessAtUse, Judgement } from "#core/judge/verdict.ts";
import { judgeInFull } from "#core/judge/whole-judgement.ts";
import { type BlendFile, nameOfIngredient, readBlend, withCertificates } from "./blend-file.ts";
import { jsonText } from "./json-text.ts";

/**
 * Judge the blend in a file.
 * @param rest one file name, or "-" for standard input
 * @returns the answer as JSON text
 * @throws Refusal when the file cannot be read or does not describe a blend
 */
export async function judgeCommand(rest: readonly string[]): Promise<string> {
  return jsonText(answer(readBlend("judge", rest)));
}

function answer({ blend, certificates, input }: BlendFile) {
  const judgement = judgeInFull(blend, {
    celsius: input.celsius,
    useCelsius: input.use.celsius,
    places: input.places ?? usualPlaces(input.use.celsius),
    ...(input.airFraction === undefined ? {} : { airFraction: input.airFraction }),
    ...(input.rules === undefined ? {} : { rules: input.rules }),
  });
  const findings = withCertificates(judgement.findings, certificates);
  return report(blend, { ...judgement, findings }, input.rules ?? {});
}

function report(blend: Blend, judgement: Judgement, rules: PoreRules) {
  const { firmness, places, oilPhase, oxidation } = judgement;
  return {
    solidFat: judgement.solidFat.map(({ celsius, fresh, settled, low, high }) => ({
      celsius,
      fresh: round(fresh, 2),
      settled: round(settled, 2),
      low: round(low, 2),
      high: round(high, 2),
    })),
    firmness: firmness ? reportFirmness(firmness) : null,
    places: (places ?? []).map((place) => ({ name: place.name, ...reportFirmness(place) })),
    softensAboveCelsius: orNull(judgement.softensAboveCelsius, 1),
    softensAboveLeastCelsius: orNull(judgement.softensAboveLeastCelsius, 1),
    slipMeltingCelsius: orNull(judgement.slipMeltingCelsius, 1),
    iodineValue: orNull(judgement.iodineValue, 1),
    saponificationValue: orNull(judgement.saponificationValue, 1),
    poreRating: reportPores(blend, judgement, rules),
    oilPhase: oilPhase ? reportOilPhase(oilPhase) : null,
    oxidation: oxidation ? reportOxidation(oxidation) : null,
    fragranceAllergens: reportFragrance(blend),
    verdict: judgement.verdict,
    findings: judgement.findings.map((found) => ({
      ...found,
      sentence: sayFinding(found, nameOfIngredient),
    })),
  };
}

function reportFirmness({ celsius, fresh, settled, yieldPa, lowest, highest }: FirmnessAtUse) {
  return { celsius, fresh, settled, yieldPa: round(yieldPa, 0), lowest, highest };
}

function reportPores(blend: Blend, { poreRating }: Judgement, rules: PoreRules) {
  return {
    highest: poreRating.highest?.value ?? null,
    mean: orNull(poreRating.mean, 2),
    unrated: poreRating.unrated,
    ingredients: listPores(blend, rules),
    about: PORE_WORDS,
  };
}

/** What a leave-on label must name. A lab's own ingredient is taken to bring no fragrance, as nothing says it does. */
function reportFragrance(blend: Blend) {
  const { named, untold } = fragranceOf(blend);
  return { abovePercent: LEAVE_ON_PERCENT, named, untold };
}

function reportOilPhase({ viscosityMm2PerS, step, leftOnSkinPercent, onSkin }: OilPhase) {
  return {
    viscosityMm2PerS: orNull(viscosityMm2PerS, 1),
    errorPercent: viscosityMm2PerS === undefined ? null : VISCOSITY_ERROR_PERCENT,
    step: step ?? null,
    leftOnSkinPercent: round(leftOnSkinPercent, 1),
    onSkin,
  };
}

function reportOxidation({ order, oxidizability, unknown }: Oxidation) {
  return {
    order,
    oxidizability: orNull(oxidizability, 2),
    unknown,
    advice: OXIDATION_WORDS[order],
  };
}

function orNull(value: number | undefined, decimals: number): number | null {
  return value === undefined ? null : round(value, decimals);
}

function round(value: number, decimals: number): number {
  return Number(value.toFixed(decimals));
}
