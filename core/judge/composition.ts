/**
 * Whether a composition can be judged at all: known acids and species, figures that are figures, a sum near the
 * whole.
 */
import { type Finding, finding } from "../finding.ts";
import type { Composition, Ingredient } from "../ingredient.ts";
import { fattyAcidByCode } from "./fatty-acid.ts";
import { parseTriacylglycerol } from "./triacylglycerol.ts";

/** A laboratory's peaks rarely add up to exactly 100; outside this, something is missing [percent by mass]. */
const SUM = { least: 98, greatest: 102 };

const checked = new WeakMap<Ingredient, readonly Finding[]>();

/**
 * Findings against an ingredient's composition; none when it can be judged.
 * @param ingredient checked once per object
 */
export function compositionFindings(ingredient: Ingredient): readonly Finding[] {
  let findings = checked.get(ingredient);
  if (!findings) {
    findings = check(ingredient.id, ingredient.composition);
    checked.set(ingredient, findings);
  }
  return findings;
}

function check(id: string, composition: Composition): Finding[] {
  switch (composition.kind) {
    case "unknown":
      return [finding("judge.solid-fat.figure-missing", id)];
    case "undissolved":
      return [];
    case "inert-liquid":
      return composition.molarMass > 0
        ? []
        : [finding("judge.composition.not-a-number", id, { measured: composition.molarMass })];
    case "wax": {
      const { kind: _kind, ...figures } = composition;
      const bad = Object.values(figures).find((figure) => !(figure > 0));
      return bad === undefined
        ? []
        : [finding("judge.composition.not-a-number", id, { measured: bad })];
    }
    case "fatty-acids":
      return [
        ...checkUnsaponifiable(id, composition.unsaponifiablePercent),
        ...checkFigures(id, composition.percent, (code) => fattyAcidByCode(code) !== undefined),
        ...(composition.sn2
          ? checkFigures(id, composition.sn2, (code) => fattyAcidByCode(code) !== undefined)
          : []),
      ];
    case "triacylglycerols":
      return [
        ...checkUnsaponifiable(id, composition.unsaponifiablePercent),
        ...checkFigures(
          id,
          composition.percent,
          (name) => parseTriacylglycerol(name) !== undefined,
        ),
      ];
  }
}

function checkUnsaponifiable(id: string, percent = 0): Finding[] {
  if (percent >= 0 && percent <= 100) return [];
  return [finding("judge.composition.not-a-number", id, { measured: percent })];
}

function checkFigures(
  id: string,
  percent: Readonly<Record<string, number>>,
  isKnown: (name: string) => boolean,
): Finding[] {
  const findings = Object.keys(percent)
    .filter((name) => !isKnown(name))
    .map((name) => finding("judge.composition.component-unknown", id, { measured: name }));
  const figures = Object.values(percent);
  const bad = figures.find((figure) => !Number.isFinite(figure) || figure < 0);
  if (bad !== undefined) {
    return [...findings, finding("judge.composition.not-a-number", id, { measured: bad })];
  }
  const sum = figures.reduce((total, figure) => total + figure, 0);
  if (sum >= SUM.least && sum <= SUM.greatest) return findings;
  const measured = Math.round(sum * 100) / 100;
  return [...findings, finding("judge.composition.not-whole", id, { measured, unit: "%" })];
}
