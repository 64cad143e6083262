/**
 * An ingredient made ready for the solid-fat model: moles of each crystallising species and of liquid in one gram.
 *
 * Species that stay liquid over the whole range are gathered into one pool, which is exact under an ideal liquid
 * and keeps the solver short.
 */
import type { Composition, Ingredient } from "../ingredient.ts";
import { distribute, familyOf } from "./distribution.ts";
import { type Species, crystallise } from "./species.ts";
import { parseTriacylglycerol } from "./triacylglycerol.ts";

export interface FatProfile {
  /** Crystallising species with their moles in one gram of ingredient. */
  readonly species: readonly { readonly species: Species; readonly molesPerG: number }[];
  /** Triacylglycerols that never crystallise here. */
  readonly liquid: LiquidPool;
  /** Liquids that are not triacylglycerols, and unsaponifiables. */
  readonly inert: { readonly gPerG: number; readonly molesPerG: number };
}

export interface LiquidPool {
  readonly gPerG: number;
  readonly molesPerG: number;
  /** Moles of double bonds in one gram, for the viscosity of the liquid part. */
  readonly doubleBondsPerG: number;
}

/**
 * Mean molar mass of sterols and triterpene esters, g/mol: from memory, order of magnitude; only dilutes the liquid.
 */
const UNSAPONIFIABLE_MOLAR_MASS = 600;

const NO_LIQUID: LiquidPool = { gPerG: 0, molesPerG: 0, doubleBondsPerG: 0 };

const profiles = new WeakMap<Composition, FatProfile>();

/**
 * The profile of an ingredient, worked out once per composition object.
 * @param ingredient its composition has passed `compositionFindings`
 * @throws when the composition is unknown: that is to be found before anything is reckoned
 */
export function fatProfile({ composition, id }: Ingredient): FatProfile {
  if (composition.kind === "unknown") throw new Error(`the composition of ${id} is not known`);
  let profile = profiles.get(composition);
  if (!profile) {
    profile = buildProfile(composition);
    profiles.set(composition, profile);
  }
  return profile;
}

function buildProfile(composition: Exclude<Composition, { kind: "unknown" }>): FatProfile {
  switch (composition.kind) {
    case "undissolved":
      return { species: [], liquid: NO_LIQUID, inert: { gPerG: 0, molesPerG: 0 } };
    case "inert-liquid":
      return {
        species: [],
        liquid: NO_LIQUID,
        inert: { gPerG: 1, molesPerG: 1 / composition.molarMass },
      };
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
  tags: readonly { tag: Parameters<typeof crystallise>[0]; moles: number }[],
  unsaponifiablePercent = 0,
): FatProfile {
  const totalG = tags.reduce((sum, { tag, moles }) => sum + moles * tag.molarMass, 0);
  const inertG = unsaponifiablePercent / 100;
  const scale = (1 - inertG) / totalG;
  const species: { species: Species; molesPerG: number }[] = [];
  const liquid = { gPerG: 0, molesPerG: 0, doubleBondsPerG: 0 };
  for (const { tag, moles } of tags) {
    const crystal = crystallise(tag);
    const molesPerG = moles * scale;
    if (crystal.settled) {
      species.push({ species: crystal, molesPerG });
    } else {
      liquid.gPerG += molesPerG * crystal.molarMass;
      liquid.molesPerG += molesPerG;
      liquid.doubleBondsPerG += molesPerG * crystal.doubleBonds;
    }
  }
  return {
    species,
    liquid,
    inert: { gPerG: inertG, molesPerG: inertG / UNSAPONIFIABLE_MOLAR_MASS },
  };
}
