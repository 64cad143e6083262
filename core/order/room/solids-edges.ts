/**
 * The greatest and the least solids that shares inside bounds can have at one temperature; why, says
 * `solids-range.ts`.
 */
import { leastOf } from "./corners.ts";
import { dissolve } from "./dissolve.ts";
import type { Space } from "./space.ts";

/** What a gram of an ingredient brings at one temperature. */
export interface Brought {
  /** Moles of each species that can be solid. */
  readonly z: Float64Array;
  /** Moles that are liquid whatever the blend. */
  readonly outside: number;
}

/** Species that can be solid at one temperature, and what ingredients bring of them. */
export interface Solvent {
  readonly k: Float64Array;
  readonly mass: Float64Array;
  readonly brought: readonly Brought[];
}

/** What is the same in every jar: part of the fat by mass. */
export type Always = readonly { readonly ingredient: number; readonly part: number }[];

/** How often the tangent is moved to the softest blend of the last one. */
const TANGENTS = 12;

/** The most and the least of each species that one of a slot's ingredients brings, and the least liquid. */
interface Reach {
  readonly most: Float64Array;
  readonly least: Float64Array;
  readonly outside: number;
}

function reachOf({ mass, brought }: Solvent, options: readonly number[]): Reach {
  const most = new Float64Array(mass.length);
  const least = new Float64Array(mass.length).fill(Infinity);
  for (const at of options) {
    const { z } = brought[at]!;
    for (let i = 0; i < z.length; i++) {
      most[i] = Math.max(most[i]!, z[i]!);
      least[i] = Math.min(least[i]!, z[i]!);
    }
  }
  return { most, least, outside: Math.min(...options.map((at) => brought[at]!.outside)) };
}

/**
 * Solids that no oils in these shares go above.
 * @returns a function of the shares, because there are many corners to a space
 */
export function aboveIn(
  solvent: Solvent,
  { slots }: Space,
  always: Always,
  whole: number,
): (shares: readonly number[]) => number {
  const { k, mass } = solvent;
  const reaches = [
    ...always.map(({ ingredient }) => reachOf(solvent, [ingredient])),
    ...slots.map(({ options }) => reachOf(solvent, options)),
  ];
  return (shares) => {
    const most = new Float64Array(mass.length);
    const least = new Float64Array(mass.length);
    let outside = 0;
    for (const [at, reach] of reaches.entries()) {
      const part = always[at]?.part ?? shares[at - always.length]! / whole;
      for (let i = 0; i < mass.length; i++) {
        most[i]! += part * reach.most[i]!;
        least[i]! += part * reach.least[i]!;
      }
      outside += part * reach.outside;
    }
    const liquid = dissolve(least, k, outside);
    let solid = 0;
    for (let i = 0; i < mass.length; i++)
      solid += Math.max(0, most[i]! - liquid * k[i]!) * mass[i]!;
    return Math.min(100, 100 * solid);
  };
}

/** Solids that no blend of the space goes below. */
export function below(
  { k, mass, brought }: Solvent,
  { slots, total }: Space,
  always: Always,
  start: ArrayLike<number>,
  whole: number,
): number {
  let blend = slots.map(({ options, own }, at) => ({
    ingredient: options[own]!,
    part: start[at]! / whole,
  }));
  let best = 0;
  for (let turn = 0; turn < TANGENTS; turn++) {
    const z = new Float64Array(mass.length);
    let outside = 0;
    for (const { ingredient, part } of [...blend, ...always]) {
      for (let i = 0; i < z.length; i++) z[i]! += part * brought[ingredient]!.z[i]!;
      outside += part * brought[ingredient]!.outside;
    }
    const slopes = tangent(z, k, mass, outside, brought);
    if (!slopes) return best;
    const softest = slots.map(({ options }) =>
      options.reduce((one, other) => (slopes[other]! < slopes[one]! ? other : one)),
    );
    const shares = leastOf(
      slots,
      total,
      softest.map((at) => slopes[at]!),
    );
    blend = softest.map((ingredient, at) => ({ ingredient, part: shares[at]! / whole }));
    const least = [...blend, ...always].reduce(
      (sum, { ingredient, part }) => sum + part * slopes[ingredient]!,
      0,
    );
    best = Math.max(best, 100 * least);
  }
  return best;
}

/** Solids gained by a gram of each ingredient, at a blend [g/g]; nothing where nothing is liquid. */
function tangent(
  z: Float64Array,
  k: Float64Array,
  mass: Float64Array,
  outside: number,
  brought: readonly Brought[],
): (number | undefined)[] | undefined {
  const liquid = dissolve(z, k, outside);
  if (liquid <= 0) return undefined;
  let slope = 1;
  for (let i = 0; i < z.length; i++) if (z[i]! > liquid * k[i]!) slope -= k[i]!;
  if (slope <= 0) return undefined;
  return brought.map((own) => {
    // Holes in the list stand for ingredients that are not in this space, and stay holes.
    let more = own.outside;
    for (let i = 0; i < z.length; i++) if (z[i]! <= liquid * k[i]!) more += own.z[i]!;
    const perGram = more / slope;
    let solid = 0;
    for (let i = 0; i < z.length; i++) {
      if (z[i]! > liquid * k[i]!) solid += (own.z[i]! - k[i]! * perGram) * mass[i]!;
    }
    return solid;
  });
}
