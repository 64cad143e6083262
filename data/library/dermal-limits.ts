/**
 * How much of a substance a leave-on butter may bring to skin. IFRA categories 5A (body), 5B (face), 5C (hands) and 5D
 * (children under three): standards of the fragrance trade, no law; a stricter law beside them goes first. The 52nd
 * Amendment was due in November 2026 and is not in here. None of it replaces a safety assessment.
 *
 * How to use: add a substance up from every oil that holds it, then compare (`essential-oils.ts` says how much).
 */
import type { Provenance } from "./record.ts";

/** A law or an opinion that is stricter than the trade's own limit [% by mass of the product] */
export interface StricterLimit extends Provenance {
  readonly where: string;
  readonly mostPercent: number;
}

export interface DermalLimit extends Provenance {
  readonly substance: string;
  /** [% by mass of the product]; missing where the standard sets no maximum. */
  readonly mostPercent?: {
    readonly body: number;
    readonly face: number;
    readonly hands: number;
    readonly underThree: number;
  };
  readonly stricter?: StricterLimit;
  /** Peroxides of the raw material, where the law sets them. */
  readonly peroxides?: Provenance & { readonly belowMmolPerL: number };
}

const transcribed = { source: "ifra-51-transcribed" } as const;

function most(body: number, face: number, hands: number, underThree: number) {
  return { body, face, hands, underThree };
}

function peroxidesBelow(belowMmolPerL: number) {
  return { belowMmolPerL, source: "eu-2023-1545" } as const;
}

export const DERMAL_LIMITS: readonly DermalLimit[] = [
  { substance: "Citral", mostPercent: most(0.15, 0.15, 0.15, 0.051), ...transcribed },
  { substance: "Citronellol", mostPercent: most(3.2, 3.2, 3.2, 3.2), ...transcribed },
  { substance: "Geraniol", mostPercent: most(1.2, 0.78, 0.94, 0.26), ...transcribed },
  { substance: "Eugenol", mostPercent: most(0.64, 0.64, 0.64, 0.21), ...transcribed },
  {
    substance: "Isoeugenol",
    mostPercent: most(0.027, 0.027, 0.027, 0.009),
    stricter: { where: "EU, UK", mostPercent: 0.02, source: "annex-iii-limits" },
    ...transcribed,
  },
  { substance: "Coumarin", mostPercent: most(0.38, 0.11, 0.16, 0.035), ...transcribed },
  { substance: "Benzyl Benzoate", mostPercent: most(4.3, 0.21, 0.83, 0.07), ...transcribed },
  { substance: "Benzyl Salicylate", mostPercent: most(1.9, 1.9, 1.9, 1.9), ...transcribed },
  {
    substance: "Methyl Eugenol",
    mostPercent: most(0.002, 0.00058, 0.00058, 0.00019),
    stricter: {
      where: "EU, UK",
      mostPercent: 0.0002,
      source: "sccnfp-2000",
      at: "as a natural constituent, leave-on products other than fragrance cream",
    },
    source: "ifra-49",
  },
  { substance: "Estragole", mostPercent: most(0.075, 0.0062, 0.012, 0.0021), source: "ifra-49" },
  {
    substance: "Safrole",
    mostPercent: most(0.01, 0.01, 0.01, 0.01),
    source: "ifra-quoted",
    at: "safrole, isosafrole and dihydrosafrole together",
  },
  { substance: "Linalool", peroxides: peroxidesBelow(20), ...transcribed, at: "no maximum" },
  { substance: "Limonene", peroxides: peroxidesBelow(20), ...transcribed, at: "no maximum" },
  { substance: "Pinene", peroxides: peroxidesBelow(10), source: "eu-2023-1545" },
  { substance: "Alpha-Terpinene", peroxides: peroxidesBelow(10), source: "eu-2023-1545" },
  { substance: "Terpinolene", peroxides: peroxidesBelow(10), source: "eu-2023-1545" },
];
