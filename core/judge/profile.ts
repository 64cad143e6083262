/**
 * An ingredient made ready for the solid-fat model: each crystallising species and the liquid in one gram.
 *
 * Species that stay liquid over the whole range are gathered into one pool, which is exact under an ideal liquid
 * and keeps the solver short.
 */
import type { Composition, Ingredient } from "../ingredient.ts";
import { distribute, familyOf } from "./distribution.ts";
import { ZERO_C } from "./pure-fat-correlation.ts";
import { type Species, crystallise } from "./species.ts";
import { type Triacylglycerol, parseTriacylglycerol } from "./triacylglycerol.ts";

export interface FatProfile {
  /** Crystallising species in one gram of ingredient. */
  readonly species: readonly (Pool & { readonly species: Species })[];
  /** Triacylglycerols that never crystallise here. */
  readonly liquid: Pool;
  /** Liquids that are not triacylglycerols, and unsaponifiables. */
  readonly inert: { readonly gPerG: number; readonly molesPerG: number };
  /** What is solid in a cool room, by melting point alone: the part whose amount matters to firmness. */
  readonly settingG: number;
  /** Its own among all profiles, to know a set of ingredients by. */
  readonly number: number;
}

export interface Pool {
  readonly gPerG: number;
  readonly molesPerG: number;
  /** Moles of double bonds in one gram, for the viscosity of the liquid part. */
  readonly doubleBondsPerG: number;
}

/**
 * Mean molar mass of sterols and triterpene esters, g/mol: from memory, order of magnitude; only dilutes the liquid.
 */
const UNSAPONIFIABLE_MOLAR_MASS = 600;

const NOTHING = { gPerG: 0, molesPerG: 0, doubleBondsPerG: 0 };

const COOL_ROOM_K = ZERO_C + 20;

const profiles = new WeakMap<Composition, FatProfile>();
let numbers = 0;

/**
 * The profile of an ingredient, worked out once per composition object.
 * @param ingredient its composition has passed `compositionFindings`
 * @throws when the composition is unknown: that is to be found before anything is reckoned
 */
export function fatProfile({ composition, id }: Ingredient): FatProfile {
  if (composition.kind === "unknown") throw new Error(`the composition of ${id} is not known`);
  let profile = profiles.get(composition);
  if (!profile) {
    const made = buildProfile(composition, id);
    const setting = made.species.filter(({ species }) => species.settled!.meltingK > COOL_ROOM_K);
    const settingG = setting.reduce((sum, { gPerG }) => sum + gPerG, 0);
    profile = { ...made, settingG, number: numbers++ };
    profiles.set(composition, profile);
  }
  return profile;
}

function buildProfile(
  composition: Exclude<Composition, { kind: "unknown" }>,
  id: string,
): Omit<FatProfile, "settingG" | "number"> {
  switch (composition.kind) {
    case "undissolved":
      return { species: [], liquid: NOTHING, inert: NOTHING };
    case "inert-liquid":
      return {
        species: [],
        liquid: NOTHING,
        inert: { gPerG: 1, molesPerG: 1 / composition.molarMass },
      };
    case "wax": {
      const { molarMass, meltingCelsius, fusionKJPerMol, structure } = composition;
      const settled = { meltingK: meltingCelsius + ZERO_C, fusionJPerMol: fusionKJPerMol * 1000 };
      const species = { name: id, lauric: false, settled, fresh: settled, structure };
      const pool = { gPerG: 1, molesPerG: 1 / molarMass, doubleBondsPerG: 0 };
      return { species: [{ species, ...pool }], liquid: NOTHING, inert: NOTHING };
    }
    case "fatty-acids": {
      const family = composition.family ?? familyOf(composition.percent);
      const tags = distribute(composition.percent, family, composition.sn2);
      return fromMoles(tags, composition.unsaponifiablePercent);
    }
    case "triacylglycerols": {
      const tags = Object.entries(composition.percent).flatMap(([name, percent]) => {
        const tag = parseTriacylglycerol(name);
        return tag && percent > 0 ? [{ tag, moles: percent / tag.molarMass }] : [];
      });
      return fromMoles(tags, composition.unsaponifiablePercent);
    }
  }
}

function fromMoles(
  tags: readonly { tag: Triacylglycerol; moles: number }[],
  unsaponifiablePercent = 0,
): Omit<FatProfile, "settingG" | "number"> {
  const totalG = tags.reduce((sum, { tag, moles }) => sum + moles * tag.molarMass, 0);
  const inertG = unsaponifiablePercent / 100;
  const scale = (1 - inertG) / totalG;
  const pools = new Map<Species, { -readonly [Figure in keyof Pool]: number }>();
  const liquid = { ...NOTHING };
  for (const { tag, moles } of tags) {
    const species = crystallise(tag);
    let pool = species.settled ? pools.get(species) : liquid;
    if (!pool) pools.set(species, (pool = { ...NOTHING }));
    pool.gPerG += moles * scale * tag.molarMass;
    pool.molesPerG += moles * scale;
    pool.doubleBondsPerG += moles * scale * tag.doubleBonds;
  }
  return {
    species: [...pools].map(([species, pool]) => ({ species, ...pool })),
    liquid,
    inert: { gPerG: inertG, molesPerG: inertG / UNSAPONIFIABLE_MOLAR_MASS },
  };
}
