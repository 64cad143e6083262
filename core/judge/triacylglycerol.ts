/**
 * Triacylglycerols (TAG): three fatty acids on glycerol, written sn-1, sn-2, sn-3 ("POS").
 *
 * The two outer positions are not told apart: POS and SOP are one species, named with the
 * lower outer acid first. The middle position matters: SOS and SSO are different fats.
 */
import {
  type FattyAcid,
  GLYCEROL_LESS_WATER,
  fattyAcidByLetter,
  fattyAcidMolarMass,
} from "./fatty-acid.ts";

export interface Triacylglycerol {
  /** Letters of sn-1, sn-2, sn-3 with the lower outer acid first. */
  readonly name: string;
  readonly outer: readonly [FattyAcid, FattyAcid];
  readonly middle: FattyAcid;
  /** Acyl carbons of the three chains. */
  readonly carbons: number;
  readonly doubleBonds: number;
  /** How many of the three chains hold a double bond. */
  readonly unsaturatedChains: number;
  /** [g/mol] */
  readonly molarMass: number;
}

/**
 * Put three acids on glycerol.
 * @param first acid at sn-1
 * @param middle acid at sn-2
 * @param third acid at sn-3
 */
export function triacylglycerol(
  first: FattyAcid,
  middle: FattyAcid,
  third: FattyAcid,
): Triacylglycerol {
  const outer = comesFirst(first, third) ? ([first, third] as const) : ([third, first] as const);
  const chains = [outer[0], middle, outer[1]];
  return {
    name: chains.map((acid) => acid.letter).join(""),
    outer,
    middle,
    carbons: sum(chains.map((acid) => acid.carbons)),
    doubleBonds: sum(chains.map((acid) => acid.doubleBonds)),
    unsaturatedChains: chains.filter((acid) => acid.doubleBonds > 0).length,
    molarMass: GLYCEROL_LESS_WATER + sum(chains.map(fattyAcidMolarMass)),
  };
}

/**
 * Read a triacylglycerol name such as "PLnO".
 * @returns the species, or nothing when the name is not exactly three known acids
 */
export function parseTriacylglycerol(name: string): Triacylglycerol | undefined {
  const letters = name.match(/[A-Z][a-z]?/g) ?? [];
  if (letters.length !== 3 || letters.join("") !== name) return undefined;
  const [first, middle, third] = letters.map(fattyAcidByLetter);
  if (!first || !middle || !third) return undefined;
  return triacylglycerol(first, middle, third);
}

/** Fewer than 46 acyl carbons: the species that share a crystal in lauric fats. Own cut. */
export function isLauric({ carbons }: Triacylglycerol): boolean {
  return carbons < 46;
}

function comesFirst(one: FattyAcid, other: FattyAcid): boolean {
  if (one.carbons !== other.carbons) return one.carbons < other.carbons;
  if (one.doubleBonds !== other.doubleBonds) return one.doubleBonds < other.doubleBonds;
  return one.letter <= other.letter;
}

function sum(numbers: readonly number[]): number {
  return numbers.reduce((total, next) => total + next, 0);
}
