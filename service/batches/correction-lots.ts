/**
 * The lots that go into a run, and its ingredients with their figures: those that were chosen, else those the shelf
 * gives first.
 */
import type { Ingredient } from "#core/ingredient.ts";
import type { Finding } from "#core/finding.ts";
import { withCertificate } from "#core/judge/certificate.ts";
import { type LotPortion, mixLots } from "#core/make/lot-correction-mix.ts";
import type { IngredientOf } from "../actions/pantry.ts";
import { certificateOf } from "../shelf/certificate.ts";
import type { LotRow } from "../storage/stock.ts";
import type { Allotted } from "./allot.ts";
import { type BatchRun, linesOf } from "./sheets.ts";

/** A line of the weigh list with what it is taken from. */
export interface LotLine {
  readonly ingredient: string;
  readonly name: string;
  readonly targetMg: number;
  readonly portions: readonly { readonly lot: LotRow; readonly takeMg: number }[];
  /** What its lots cannot give [mg] */
  readonly shortMg: number;
  /** Whether a lot of it has a certificate. */
  readonly isCertified: boolean;
}

/** A certificate, or lots together, by which nobody can judge, and what to do about it. */
export interface LotFault {
  readonly ingredient: string;
  /** A certificate that cannot be used, papers that cannot be reckoned together, or shares that never come to rest. */
  readonly code: "certificate" | "mixed" | "unsettled";
  /** Codes of the lots it is about. */
  readonly lots: readonly string[];
  readonly findings: readonly Finding[];
}

export interface RunLots {
  readonly lines: readonly LotLine[];
  readonly faults: readonly LotFault[];
  /** Ingredients with the figures of their lots; the library's where no lot tells any. */
  readonly lotOf: IngredientOf;
}

/**
 * Put the lots of a run together.
 * @param allotted what the shelf gives each line of it
 * @param chosen lots somebody chose instead, by ingredient; each is taken alone
 */
export function lotsOfRun(
  run: BatchRun,
  allotted: readonly (readonly Allotted[])[],
  chosen: ReadonlyMap<string, LotRow>,
  ingredientOf: IngredientOf,
): RunLots {
  const faults: LotFault[] = [];
  const held = new Map<string, Ingredient>();
  const lines = linesOf(run).map(({ ingredient: id, name, targetMg }, at): LotLine => {
    const portions = portionsOf(chosen.get(id), targetMg, allotted[at] ?? []);
    const isCertified = portions.some(({ lot }) => lot.certificate !== null);
    const ingredient = ingredientOf(id);
    if (ingredient && isCertified) {
      const made = ingredientOfLots(ingredient, portions);
      if ("fault" in made) faults.push(made.fault);
      else held.set(id, made.ingredient);
    }
    const takenMg = portions.reduce((sum, { takeMg }) => sum + takeMg, 0);
    return { ingredient: id, name, targetMg, portions, shortMg: targetMg - takenMg, isCertified };
  });
  return { lines, faults, lotOf: (id) => held.get(id) ?? ingredientOf(id) };
}

function portionsOf(
  chosen: LotRow | undefined,
  targetMg: number,
  allotted: readonly Allotted[],
): LotLine["portions"] {
  if (chosen) return [{ lot: chosen, takeMg: Math.min(targetMg, chosen.onHandMg) }];
  return allotted.flatMap(({ lot, takeMg }) => (lot ? [{ lot, takeMg }] : []));
}

/** An ingredient as the lots of one weighing are together. */
function ingredientOfLots(
  ingredient: Ingredient,
  portions: LotLine["portions"],
): { readonly ingredient: Ingredient } | { readonly fault: LotFault } {
  const parts: LotPortion[] = [];
  for (const { lot, takeMg } of portions) {
    const read = ingredientOfCertificate(ingredient, lot);
    if ("fault" in read) return read;
    parts.push({ ingredient: read.ingredient, takeMg });
  }
  const mixed = mixLots(parts);
  if (mixed) return { ingredient: mixed };
  const lots = portions.map(({ lot }) => lot.code);
  return { fault: { ingredient: ingredient.id, code: "mixed", lots, findings: [] } };
}

function ingredientOfCertificate(
  ingredient: Ingredient,
  lot: LotRow,
): { readonly ingredient: Ingredient } | { readonly fault: LotFault } {
  const certificate = readableCertificate(lot);
  if (certificate === undefined) return { ingredient };
  const { ingredient: ofLot, findings } =
    certificate === "unreadable"
      ? { ingredient, findings: [] as readonly Finding[] }
      : withCertificate(ingredient, certificate);
  if (certificate !== "unreadable" && findings.length === 0) return { ingredient: ofLot };
  const about = { ingredient: ingredient.id, lots: [lot.code] };
  return { fault: { ...about, code: "certificate", findings } };
}

/** What is kept may be older than what is read here, or come from a file. */
function readableCertificate(lot: LotRow) {
  try {
    return certificateOf(lot);
  } catch {
    return "unreadable" as const;
  }
}
