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

const LETTERS: readonly (readonly [code: string, letter: string])[] = [
  ["6:0", "Co"],
  ["8:0", "Cy"],
  ["10:0", "C"],
  ["12:0", "La"],
  ["14:0", "M"],
  ["14:1", "Mo"],
  ["16:0", "P"],
  ["16:1", "Po"],
  ["17:0", "Ma"],
  ["17:1", "Mg"],
  ["18:0", "S"],
  ["18:1", "O"],
  ["18:1-OH", "R"],
  ["18:2", "L"],
  ["18:3", "Ln"],
  ["18:3n6", "Lg"],
  ["18:4", "St"],
  ["20:0", "A"],
  ["20:1", "G"],
  ["20:2", "Gd"],
  ["22:0", "B"],
  ["22:1", "Er"],
  ["22:2", "Dd"],
  ["24:0", "Li"],
  ["24:1", "Ne"],
];

export const FATTY_ACIDS: readonly FattyAcid[] = LETTERS.map(([code, letter]) => {
  const [carbons = 0, doubleBonds = 0] = code.split(":").map((part) => Number.parseInt(part));
  const acid = { code, letter, carbons, doubleBonds };
  return code.endsWith("OH") ? { ...acid, hydroxy: true } : acid;
});

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
