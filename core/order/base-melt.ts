/**
 * Melts of very many blends, made quickly: the species of all ingredients that may be in them stand in one frame,
 * whatever oils are chosen, so that a blend costs a weighted sum and no list of species of its own. A species nobody
 * brought has no moles and changes nothing.
 */
import { WHOLE } from "../blend.ts";
import type { Ingredient } from "../ingredient.ts";
import { compositionFindings } from "../judge/composition.ts";
import { type Frame, frameOf } from "../judge/frame.ts";
import type { FatPart, Melt } from "../judge/melt.ts";
import { type FatProfile, fatProfile } from "../judge/profile.ts";

/** A fat of the base: what a gram of it brings, by place of the species. */
interface Brought {
  readonly at: number;
  readonly part: { readonly ingredient: Ingredient; fraction: number };
  readonly places: readonly number[];
  readonly moles: Float64Array;
  readonly liquidMoles: number;
  readonly liquidG: number;
  /** The few species that weigh differently from fat to fat. */
  readonly mixed: readonly {
    readonly place: number;
    readonly gPerG: number;
    readonly bonds: number;
  }[];
}

/**
 * A function that makes melts.
 * @param ingredients all that a blend of the base may hold
 * @returns melt of shares in the order of the ingredients; nothing when they hold no fat. The melt is good until the
 *   next one is made. No ingredient present may have findings against its composition.
 */
export function meltsOf(
  ingredients: readonly Ingredient[],
): (shares: ArrayLike<number>) => Melt | undefined {
  const fats = ingredients.flatMap((ingredient, at) =>
    ingredient.composition.kind === "undissolved" || compositionFindings(ingredient).length > 0
      ? []
      : [{ at, part: { ingredient, fraction: 0 }, profile: fatProfile(ingredient) }],
  );
  const frame = frameOf(fats.map(({ profile }) => profile));
  const { molarMass, doubleBonds, mixed } = weigh(frame, fats);
  const brought = fats.map((fat, at) => bring(fat, frame.places[at]!, mixed));
  const moles = new Float64Array(frame.species.length);
  const isMeasured = fats.some(({ part }) => part.ingredient.solidFatCurve !== undefined);
  const parts: FatPart[] = [];
  const fresh = () => beginMelt(frame, { moles, molarMass, doubleBonds, parts });
  let melt = fresh();
  return (shares) => {
    let whole = 0;
    for (let i = 0; i < brought.length; i++) whole += shares[brought[i]!.at]!;
    if (whole === 0) return undefined;
    moles.fill(0);
    for (const at of mixed) molarMass[at] = doubleBonds[at] = 0;
    parts.length = 0;
    // What was measured of a lot is kept by melt.
    if (isMeasured) melt = fresh();
    melt.liquidMoles = melt.liquidG = 0;
    melt.settled.solved.length = melt.fresh.solved.length = 0;
    melt.fatFraction = whole / WHOLE;
    for (let i = 0; i < brought.length; i++) {
      const share = shares[brought[i]!.at]!;
      if (share !== 0) pour(melt, brought[i]!, share / whole);
    }
    for (const at of mixed) {
      if (moles[at] === 0) continue;
      molarMass[at]! /= moles[at]!;
      doubleBonds[at]! /= moles[at]!;
    }
    melt.measured = isMeasured && parts.some((part) => part.ingredient.solidFatCurve !== undefined);
    return melt;
  };
}

type Written = { -readonly [Figure in keyof Melt]: Melt[Figure] } & { parts: FatPart[] };

function beginMelt(
  frame: Frame,
  own: Pick<Written, "moles" | "molarMass" | "doubleBonds" | "parts">,
): Written {
  const { species, lauricFrom, settled, fresh } = frame;
  return {
    ...{ frame, species, lauricFrom, ...own },
    ...{ liquidMoles: 0, liquidG: 0, fatFraction: 0, measured: false },
    settled: { heat: settled.heat, meltingK: settled.meltingK, solved: [] },
    fresh: { heat: fresh.heat, meltingK: fresh.meltingK, solved: [] },
  };
}

/** One fat more in a melt. */
function pour(melt: Written, { part, places, moles, mixed, ...own }: Brought, fraction: number) {
  const { moles: into, molarMass, doubleBonds } = melt;
  part.fraction = fraction;
  melt.parts.push(part);
  for (let i = 0; i < moles.length; i++) into[places[i]!]! += moles[i]! * fraction;
  for (const { place, gPerG, bonds } of mixed) {
    molarMass[place]! += gPerG * fraction;
    doubleBonds[place]! += bonds * fraction;
  }
  melt.liquidMoles += own.liquidMoles * fraction;
  melt.liquidG += own.liquidG * fraction;
}

type Fat = Pick<Brought, "at" | "part"> & { readonly profile: FatProfile };

function bring({ at, part, profile }: Fat, places: readonly number[], mixed: readonly number[]) {
  const { species, liquid, inert } = profile;
  return {
    ...{ at, part, places },
    moles: Float64Array.from(species, ({ molesPerG }) => molesPerG),
    liquidMoles: liquid.molesPerG + inert.molesPerG,
    liquidG: liquid.gPerG + inert.gPerG,
    mixed: species.flatMap(({ gPerG, doubleBondsPerG: bonds }, i) =>
      mixed.includes(places[i]!) ? [{ place: places[i]!, gPerG, bonds }] : [],
    ),
  };
}

/** Noise of sums in another order. */
const NOISE = 1e-12;

/**
 * Molar mass and double bonds of the species. A species of one triacylglycerol has the same in every fat; those pooled
 * by melting point have not, and are mixed anew in every blend.
 */
function weigh({ species, places }: Frame, fats: readonly Fat[]) {
  const molarMass = new Float64Array(species.length);
  const doubleBonds = new Float64Array(species.length);
  const mixed = new Set<number>();
  for (const [at, { profile }] of fats.entries()) {
    for (const [i, { gPerG, molesPerG, doubleBondsPerG }] of profile.species.entries()) {
      const place = places[at]![i]!;
      const [mass, bonds] = [gPerG / molesPerG, doubleBondsPerG / molesPerG];
      const isFirst = molarMass[place] === 0;
      if (isFirst) [molarMass[place], doubleBonds[place]] = [mass, bonds];
      const isSame =
        Math.abs(molarMass[place]! / mass - 1) < NOISE &&
        Math.abs(doubleBonds[place]! - bonds) < NOISE * (1 + bonds);
      if (!isSame) mixed.add(place);
    }
  }
  return { molarMass, doubleBonds, mixed: [...mixed] };
}
