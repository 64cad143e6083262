/**
 * A supplier's certificate for one lot, in place of the library's figures.
 *
 * Fatty acids or triacylglycerols replace the composition; the unsaponifiables and the family's sn-2 rule stay. A
 * measured solid-fat curve stays beside the composition and puts the reckoned curve right (`solid-fat.ts`). Both may
 * come together.
 */
import { type Finding, finding } from "../finding.ts";
import type { Composition, Ingredient, SolidFatReading } from "../ingredient.ts";
import { compositionFindings } from "./composition.ts";
import { COLDEST_C, WARMEST_C } from "./softening.ts";

export interface Certificate {
  /** By lipid code [percent by mass]. */
  readonly fattyAcids?: Readonly<Record<string, number>>;
  /** Positional analysis: fatty acids at sn-2 [mole percent] */
  readonly sn2?: Readonly<Record<string, number>>;
  /** By name [percent by mass]; goes before the fatty acids when both are there. */
  readonly triacylglycerols?: Readonly<Record<string, number>>;
  /** Settled (tempered) solid fat, two temperatures or more. */
  readonly solidFatCurve?: readonly CertificateReading[];
}

export interface CertificateReading extends SolidFatReading {
  /** As printed, such as "ISO 8292-1, tempered": kept for the reader, not reckoned with. */
  readonly method?: string;
}

const LEAST_READINGS = 2;

/**
 * Lot to lot is no longer in question once a lot was analysed: what is left is the laboratory (pulsed NMR 2 to 3
 * points between laboratories, from memory). Own choice.
 */
const CERTIFIED_SPREAD = 0.03;

/** A lot, and what stands against its certificate; nothing, where its figures are those of the ingredient. */
export interface CertifiedLot {
  readonly ingredient: Ingredient;
  readonly findings: readonly Finding[];
}

/**
 * The ingredient as this lot is.
 * @param ingredient the library's
 * @param certificate what the supplier's paper says of the lot
 * @returns the ingredient with the lot's figures; where they cannot be used, findings, and an ingredient of unknown
 *   composition, so that nobody can judge the lot by figures that are not its own
 */
export function withCertificate(ingredient: Ingredient, certificate: Certificate): CertifiedLot {
  const { solidFatCurve: curve } = certificate;
  const lot: Ingredient = {
    ...ingredient,
    composition: compositionOf(ingredient.composition, certificate),
    compositionSpread: CERTIFIED_SPREAD,
    ...(curve ? { solidFatCurve: curve } : {}),
  };
  const findings = [
    ...compositionFindings(lot),
    ...(curve ? curveFindings(ingredient.id, curve) : []),
  ];
  if (findings.length === 0) return { ingredient: lot, findings };
  return { ingredient: { ...ingredient, composition: { kind: "unknown" } }, findings };
}

function compositionOf(before: Composition, certificate: Certificate): Composition {
  const { fattyAcids, sn2, triacylglycerols } = certificate;
  const inert =
    "unsaponifiablePercent" in before
      ? { unsaponifiablePercent: before.unsaponifiablePercent ?? 0 }
      : {};
  if (triacylglycerols) return { kind: "triacylglycerols", percent: triacylglycerols, ...inert };
  if (!fattyAcids) return before;
  const family = "family" in before && before.family ? { family: before.family } : {};
  return { kind: "fatty-acids", percent: fattyAcids, ...family, ...(sn2 ? { sn2 } : {}), ...inert };
}

function curveFindings(id: string, curve: readonly SolidFatReading[]): Finding[] {
  if (curve.length < LEAST_READINGS) {
    const figures = { measured: curve.length, limit: LEAST_READINGS };
    return [finding("judge.certificate.too-few-readings", id, figures)];
  }
  const outside = curve.flatMap(({ celsius, percent }) => [
    ...(celsius >= COLDEST_C && celsius <= WARMEST_C ? [] : [`${celsius} °C`]),
    ...(percent >= 0 && percent <= 100 ? [] : [`${percent} %`]),
  ]);
  if (outside.length > 0) {
    return outside.map((measured) => finding("judge.certificate.out-of-range", id, { measured }));
  }
  const sorted = [...curve].sort((one, other) => one.celsius - other.celsius);
  const rise = sorted.find(
    ({ celsius, percent }, at) =>
      at > 0 && (percent > sorted[at - 1]!.percent || celsius === sorted[at - 1]!.celsius),
  );
  if (!rise) return [];
  return [finding("judge.certificate.rises", id, { measured: rise.celsius, unit: "°C" })];
}
