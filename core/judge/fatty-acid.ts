/**
 * The fatty acids the formulation core knows, with the figures every later step needs.
 *
 * Molar masses follow from the standard atomic weights C 12.011, H 1.008, O 15.999 (IUPAC, abridged).
 * A lipid code such as "18:1" counts carbons and double bonds; the letter is the usual
 * abbreviation in triacylglycerol names ("SOS").
 */
export interface FattyAcid {
  /** Lipid code, carbons:double bonds, with a suffix where two acids share it. */
  readonly code: string;
  /** Abbreviation used inside a triacylglycerol name. */
  readonly letter: string;
  readonly carbons: number;
  readonly doubleBonds: number;
  /** Hydroxy acid (ricinoleic): glycerides that hold one never crystallise in our range. */
  readonly hydroxy?: true;
}

export const FATTY_ACIDS: readonly FattyAcid[] = [
  { code: "6:0", letter: "Co", carbons: 6, doubleBonds: 0 },
  { code: "8:0", letter: "Cy", carbons: 8, doubleBonds: 0 },
  { code: "10:0", letter: "C", carbons: 10, doubleBonds: 0 },
  { code: "12:0", letter: "La", carbons: 12, doubleBonds: 0 },
  { code: "14:0", letter: "M", carbons: 14, doubleBonds: 0 },
  { code: "14:1", letter: "Mo", carbons: 14, doubleBonds: 1 },
  { code: "16:0", letter: "P", carbons: 16, doubleBonds: 0 },
  { code: "16:1", letter: "Po", carbons: 16, doubleBonds: 1 },
  { code: "17:0", letter: "Ma", carbons: 17, doubleBonds: 0 },
  { code: "17:1", letter: "Mg", carbons: 17, doubleBonds: 1 },
  { code: "18:0", letter: "S", carbons: 18, doubleBonds: 0 },
  { code: "18:1", letter: "O", carbons: 18, doubleBonds: 1 },
  { code: "18:1-OH", letter: "R", carbons: 18, doubleBonds: 1, hydroxy: true },
  { code: "18:2", letter: "L", carbons: 18, doubleBonds: 2 },
  { code: "18:3", letter: "Ln", carbons: 18, doubleBonds: 3 },
  { code: "18:3n6", letter: "Lg", carbons: 18, doubleBonds: 3 },
  { code: "18:4", letter: "St", carbons: 18, doubleBonds: 4 },
  { code: "20:0", letter: "A", carbons: 20, doubleBonds: 0 },
  { code: "20:1", letter: "G", carbons: 20, doubleBonds: 1 },
  { code: "20:2", letter: "Gd", carbons: 20, doubleBonds: 2 },
  { code: "22:0", letter: "B", carbons: 22, doubleBonds: 0 },
  { code: "22:1", letter: "Er", carbons: 22, doubleBonds: 1 },
  { code: "22:2", letter: "Dd", carbons: 22, doubleBonds: 2 },
  { code: "24:0", letter: "Li", carbons: 24, doubleBonds: 0 },
  { code: "24:1", letter: "Ne", carbons: 24, doubleBonds: 1 },
];

const BY_CODE = new Map(FATTY_ACIDS.map((acid) => [acid.code, acid]));
const BY_LETTER = new Map(FATTY_ACIDS.map((acid) => [acid.letter, acid]));

const CARBON = 12.011;
const HYDROGEN = 1.008;
const OXYGEN = 15.999;

/** Glycerol residue of a triacylglycerol: C3H8O3 less three waters gained back on ester bonds [g/mol]. */
export const GLYCEROL_LESS_WATER =
  3 * CARBON + 8 * HYDROGEN + 3 * OXYGEN - 3 * (2 * HYDROGEN + OXYGEN);

/**
 * The fatty acid of a lipid code.
 * @param code lipid code such as "18:1"
 * @returns the acid, or nothing when the code is not known
 */
export function fattyAcidByCode(code: string): FattyAcid | undefined {
  return BY_CODE.get(code);
}

/**
 * The fatty acid of a letter in a triacylglycerol name.
 * @param letter abbreviation such as "Ln"
 * @returns the acid, or nothing when the letter is not known
 */
export function fattyAcidByLetter(letter: string): FattyAcid | undefined {
  return BY_LETTER.get(letter);
}

/**
 * Molar mass of a free fatty acid.
 * @returns grams per mole [g/mol]
 */
export function fattyAcidMolarMass(acid: FattyAcid): number {
  const hydrogens = 2 * acid.carbons - 2 * acid.doubleBonds;
  const oxygens = acid.hydroxy ? 3 : 2;
  return acid.carbons * CARBON + hydrogens * HYDROGEN + oxygens * OXYGEN;
}
