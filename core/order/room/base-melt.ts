/**
 * Melts of one base, made quickly: the species of all its ingredients stand in one frame, whatever oils are chosen,
 * so that a blend costs a weighted sum and no list of species of its own. A species nobody brought has no moles and
 * changes nothing.
 */
import type { Ingredient } from "../../ingredient.ts";
import { frameOf } from "../../judge/frame.ts";
import type { FatPart, Melt } from "../../judge/melt.ts";
import { type FatProfile, fatProfile } from "../../judge/profile.ts";
import { compositionFindings } from "../../judge/composition.ts";

/** A fat of the base: what a gram of it brings, by place of the species. */
interface Brought {
  readonly at: number;
  readonly part: { readonly ingredient: Ingredient; fraction: number };
  readonly profile: FatProfile;
  readonly places: readonly number[];
}

/**
 * A function that makes melts.
 * @param ingredients all that a blend of the base may hold
 * @returns melt of shares in the order of the ingredients; nothing when they hold no fat. The melt is good until the
 *   next one is made. No ingredient present may have findings against its composition.
 */
export function meltsOf(
  ingredients: readonly Ingredient[],
): (shares: Float64Array) => Melt | undefined {
  const fats = ingredients.flatMap((ingredient, at) =>
    ingredient.composition.kind === "undissolved" || compositionFindings(ingredient).length > 0
      ? []
      : [{ at, part: { ingredient, fraction: 0 }, profile: fatProfile(ingredient) }],
  );
  const frame = frameOf(fats.map(({ profile }) => profile));
  const brought = fats.map((fat, at): Brought => ({ ...fat, places: frame.places[at]! }));
  const count = frame.species.length;
  const moles = new Float64Array(count);
  const molarMass = new Float64Array(count);
  const doubleBonds = new Float64Array(count);
  const { species, lauricFrom, settled, fresh } = frame;
  return (shares) => {
    let whole = 0;
    for (const { at } of brought) whole += shares[at]!;
    if (whole === 0) return undefined;
    moles.fill(0);
    molarMass.fill(0);
    doubleBonds.fill(0);
    let liquidMoles = 0;
    let liquidG = 0;
    const parts: FatPart[] = [];
    for (const { at, part, profile, places } of brought) {
      const fraction = shares[at]! / whole;
      if (fraction === 0) continue;
      part.fraction = fraction;
      parts.push(part);
      const { species: own, liquid, inert } = profile;
      for (let i = 0; i < own.length; i++) {
        const each = own[i]!;
        const place = places[i]!;
        moles[place]! += each.molesPerG * fraction;
        molarMass[place]! += each.gPerG * fraction;
        doubleBonds[place]! += each.doubleBondsPerG * fraction;
      }
      liquidMoles += (liquid.molesPerG + inert.molesPerG) * fraction;
      liquidG += (liquid.gPerG + inert.gPerG) * fraction;
    }
    for (let i = 0; i < count; i++) {
      if (moles[i] === 0) continue;
      molarMass[i]! /= moles[i]!;
      doubleBonds[i]! /= moles[i]!;
    }
    return {
      ...{ frame, species, lauricFrom, moles, molarMass, doubleBonds, liquidMoles, liquidG },
      ...{ fatFraction: whole / 10_000, parts },
      settled: { heat: settled.heat, meltingK: settled.meltingK, solved: [] },
      fresh: { heat: fresh.heat, meltingK: fresh.meltingK, solved: [] },
      measured: parts.some(({ ingredient }) => ingredient.solidFatCurve !== undefined),
    };
  };
}
