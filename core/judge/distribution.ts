/**
 * Fatty acids -> triacylglycerols by the 1,3-random-2-random rule.
 *
 * Method: each position draws its acids independently; sn-1 and sn-3 alike. A species a-b-c has the mole fraction
 * s13(a) s2(b) s13(c), doubled when a and c differ, with s13 = (3 x - s2) / 2. Verified for mango kernel fat (van
 * Pee, nine varieties) and avocado fruit coat; cocoa butter is less random, so its measured species are used instead.
 * Where no positional analysis is given, s2 follows a rule of the fat's family (own summary of published sn-2 data).
 */
import {
  type FattyAcid,
  GLYCEROL_LESS_WATER,
  fattyAcidByCode,
  fattyAcidMolarMass,
} from "./fatty-acid.ts";
import { type Triacylglycerol, isLauric, triacylglycerol } from "./triacylglycerol.ts";

/** Which sn-2 rule a fat follows: seed butters and oils, palm pulp oil, or lauric kernel fats. */
export type FatFamily = "seed" | "palm" | "lauric";

export interface TagMoles {
  readonly tag: Triacylglycerol;
  /** Mole fraction of the species in the fat. */
  readonly moles: number;
}

type Fractions = ReadonlyMap<FattyAcid, number>;

/** Share of its average that a saturated acid keeps at sn-2 in seed fats (cocoa, olive, sunflower, soya data). */
const SEED_SATURATES_AT_SN2 = { upTo16: 0.09, eighteen: 0.06, above18: 0.03 };
/** Linoleic acid takes sn-2 a little more readily than other unsaturated acids. */
const SEED_LINOLEIC_WEIGHT = 1.15;

const SN2_MULTIPLE: Record<"palm" | "lauric", Readonly<Record<string, number>>> = {
  palm: { "14:0": 0.4, "16:0": 0.33, "18:0": 0.15, "18:1": 1.55, "18:2": 1.75, "20:0": 0.1 },
  lauric: {
    "6:0": 0.15,
    "8:0": 0.15,
    "10:0": 0.3,
    "12:0": 1.25,
    "14:0": 0.75,
    "16:0": 0.35,
    "18:0": 0.35,
    "18:1": 1.25,
    "18:2": 1.4,
  },
};

/**
 * Species rarer than this mole fraction are dropped and the rest scaled up again: it moves solids by 0.2 points on
 * average and keeps the solver quick. Lauric fats are made of many rare species, which are pooled by melting point
 * anyway (`species.ts`), so more of those stay.
 */
const RAREST = 0.0015;
const RAREST_LAURIC = 0.0003;

/**
 * Which sn-2 rule fits when nobody said: a fifth or more of short saturated acids makes a lauric fat.
 * @param percentByCode fatty acids, percent by mass
 */
export function familyOf(percentByCode: Readonly<Record<string, number>>): "seed" | "lauric" {
  const short = ["6:0", "8:0", "10:0", "12:0"].reduce(
    (total, code) => total + (percentByCode[code] ?? 0),
    0,
  );
  return short >= 20 ? "lauric" : "seed";
}

/**
 * Mole fractions of fatty acids from percent by mass.
 * @param percentByCode fatty acids by lipid code [percent by mass]; any sum, it is brought to one
 */
export function molesOfFattyAcids(percentByCode: Readonly<Record<string, number>>): Fractions {
  const moles = new Map<FattyAcid, number>();
  for (const [code, percent] of Object.entries(percentByCode)) {
    const acid = fattyAcidByCode(code);
    if (acid && percent > 0) moles.set(acid, percent / fattyAcidMolarMass(acid));
  }
  return normalise(moles);
}

/**
 * Distribute fatty acids over glycerol.
 * @param percentByCode fatty acids by lipid code [percent by mass]
 * @param family sn-2 rule to use when `sn2` is not given
 * @param sn2 positional analysis: mole percent of each acid at sn-2, where a laboratory measured it
 * @returns species with mole fractions that sum to one, commonest first
 */
export function distribute(
  percentByCode: Readonly<Record<string, number>>,
  family: FatFamily,
  sn2?: Readonly<Record<string, number>>,
): TagMoles[] {
  const overall = molesOfFattyAcids(percentByCode);
  const wanted = sn2 ? measuredMiddle(sn2, overall) : middleByRule(overall, family);
  const middle = withinReach(wanted, overall);
  const outer = normalise(
    new Map(
      [...overall].map(([acid, x]) => [acid, Math.max(0, (3 * x - (middle.get(acid) ?? 0)) / 2)]),
    ),
  );
  const found = new Map<string, { tag: Triacylglycerol; moles: number }>();
  const outerAcids = [...outer];
  for (const [i, [first, firstShare]] of outerAcids.entries()) {
    for (const [third, thirdShare] of outerAcids.slice(i)) {
      const twice = first === third ? 1 : 2;
      for (const [acid, middleShare] of middle) {
        const moles = twice * firstShare * middleShare * thirdShare;
        if (moles < RAREST_LAURIC) continue;
        const tag = triacylglycerol(first, acid, third);
        if (moles < RAREST && !isLauric(tag)) continue;
        found.set(tag.name, { tag, moles: (found.get(tag.name)?.moles ?? 0) + moles });
      }
    }
  }
  const kept = [...found.values()];
  const total = kept.reduce((sum, { moles }) => sum + moles, 0);
  return kept
    .map(({ tag, moles }) => ({ tag, moles: moles / total }))
    .sort((one, other) => other.moles - one.moles);
}

/** Mean molar mass of a triacylglycerol made of these acids [g/mol]. */
export function meanTagMolarMass(overall: Fractions): number {
  let mean = 0;
  for (const [acid, share] of overall) mean += share * fattyAcidMolarMass(acid);
  return 3 * mean + GLYCEROL_LESS_WATER;
}

function measuredMiddle(sn2: Readonly<Record<string, number>>, overall: Fractions): Fractions {
  const middle = new Map<FattyAcid, number>();
  for (const [code, percent] of Object.entries(sn2)) {
    const acid = fattyAcidByCode(code);
    if (acid && percent > 0 && overall.has(acid)) middle.set(acid, percent);
  }
  return normalise(middle);
}

function middleByRule(overall: Fractions, family: FatFamily): Fractions {
  if (family === "seed") return seedMiddle(overall);
  const multiple = SN2_MULTIPLE[family];
  const others = family === "palm" ? 1.55 : 1.25; // acids without an entry go as oleic does
  return normalise(
    new Map([...overall].map(([acid, x]) => [acid, x * (multiple[acid.code] ?? others)])),
  );
}

function seedMiddle(overall: Fractions): Fractions {
  const middle = new Map<FattyAcid, number>();
  let left = 1;
  let weight = 0;
  for (const [acid, x] of overall) {
    if (acid.doubleBonds === 0) {
      const kept = x * seedSaturateFactor(acid.carbons);
      middle.set(acid, kept);
      left -= kept;
    } else {
      weight += x * linoleicWeight(acid);
    }
  }
  for (const [acid, x] of overall) {
    if (acid.doubleBonds === 0) continue;
    middle.set(acid, (left * x * linoleicWeight(acid)) / weight);
  }
  return normalise(middle);
}

/**
 * An acid can fill no more of sn-2 than there is of it, 3 x. What a rule or a laboratory puts there beyond that goes
 * to the other acids in proportion to the room they have, so that the species always hold the acids of the analysis.
 */
function withinReach(middle: Fractions, overall: Fractions): Fractions {
  const kept = new Map(
    [...overall].map(([acid, x]) => [acid, Math.min(middle.get(acid) ?? 0, 3 * x)]),
  );
  const excess = 1 - [...kept.values()].reduce((sum, share) => sum + share, 0);
  const room = 2 + excess; // the acids could fill sn-2 three times over
  return new Map(
    [...kept].map(([acid, s]) => [acid, s + (excess * (3 * overall.get(acid)! - s)) / room]),
  );
}

function seedSaturateFactor(carbons: number): number {
  if (carbons <= 16) return SEED_SATURATES_AT_SN2.upTo16;
  return carbons <= 18 ? SEED_SATURATES_AT_SN2.eighteen : SEED_SATURATES_AT_SN2.above18;
}

function linoleicWeight(acid: FattyAcid): number {
  return acid.doubleBonds === 2 ? SEED_LINOLEIC_WEIGHT : 1;
}

function normalise(moles: ReadonlyMap<FattyAcid, number>): Fractions {
  let total = 0;
  for (const share of moles.values()) total += share;
  return new Map([...moles].map(([acid, share]) => [acid, share / total]));
}
