/**
 * Several lots of one ingredient in one weighing -> one ingredient that holds the species of them all.
 *
 * Method: each lot's species, by mass, in proportion to what is taken from it; unsaponifiables likewise. That is exact
 * for compositions. Measured curves are not species and do not add up this way, so lots that bring one are not mixed.
 */
import type { Composition, Ingredient } from "../ingredient.ts";
import { distribute, familyOf } from "../judge/distribution.ts";
import { USUAL_SPREAD } from "../judge/band.ts";
import { parseTriacylglycerol } from "../judge/triacylglycerol.ts";

export interface LotPortion {
  /** The ingredient with this lot's figures. */
  readonly ingredient: Ingredient;
  /** [mg] */
  readonly takeMg: number;
}

/**
 * Mix lots of one ingredient.
 * @param portions lots of the same ingredient, whose compositions have passed `compositionFindings`; one or more
 * @returns the mixture, under the ingredient's own id; nothing when it cannot be reckoned
 */
export function mixLots(portions: readonly LotPortion[]): Ingredient | undefined {
  const [first, ...others] = portions.filter(({ takeMg }) => takeMg > 0);
  if (!first) return undefined;
  if (others.every(({ ingredient }) => ingredient === first.ingredient)) return first.ingredient;
  const all = [first, ...others];
  if (all.some(({ ingredient }) => ingredient.solidFatCurve)) return undefined;
  const whole = all.reduce((sum, { takeMg }) => sum + takeMg, 0);
  const species = new Map<string, number>();
  let inert = 0;
  let spread = 0;
  for (const { ingredient, takeMg } of all) {
    const part = takeMg / whole;
    const held = speciesOf(ingredient.composition);
    if (!held) return undefined;
    const sum = [...held.percent.values()].reduce((total, percent) => total + percent, 0);
    const fat = part * (1 - held.inertPercent / 100);
    for (const [name, percent] of held.percent) {
      species.set(name, (species.get(name) ?? 0) + (100 * fat * percent) / sum);
    }
    inert += part * held.inertPercent;
    // Added up as if they strayed together: no narrower than the lots are by themselves.
    spread += part * (ingredient.compositionSpread ?? USUAL_SPREAD);
  }
  const brought = 100 / (100 - inert);
  const percent = Object.fromEntries([...species].map(([name, each]) => [name, each * brought]));
  return {
    ...first.ingredient,
    composition: { kind: "triacylglycerols", percent, unsaponifiablePercent: inert },
    compositionSpread: spread,
  };
}

/** Triacylglycerols by name [percent by mass; any sum]; nothing for what is made of none. */
function speciesOf(composition: Composition) {
  if (composition.kind === "triacylglycerols") {
    const known = Object.entries(composition.percent).filter(([name]) =>
      parseTriacylglycerol(name),
    );
    return { percent: new Map(known), inertPercent: composition.unsaponifiablePercent ?? 0 };
  }
  if (composition.kind !== "fatty-acids") return undefined;
  const { percent: acids, family = familyOf(acids), sn2 } = composition;
  const percent = new Map<string, number>();
  for (const { tag, moles } of distribute(acids, family, sn2)) {
    percent.set(tag.name, (percent.get(tag.name) ?? 0) + moles * tag.molarMass);
  }
  return { percent, inertPercent: composition.unsaponifiablePercent ?? 0 };
}
