/**
 * What blends of the same ingredients have in common, whatever their shares: which species there are, and how each
 * melts. A drawn slider moves shares and leaves the ingredients, so this is worked out once and kept.
 */
import type { FatProfile } from "./profile.ts";
import { type PureFat, ZERO_C } from "./pure-fat-correlation.ts";
import type { Species } from "./species.ts";

/** Fresh: just whipped, beta-prime crystals. Settled: after about a week, beta crystals. */
export type FatState = "fresh" | "settled";

export interface Frame {
  /** Species that crystallise in our range: those that crystallise alone first, then the lauric ones. */
  readonly species: readonly Species[];
  readonly lauricFrom: number;
  /** For each ingredient, where its species stand among all of them. */
  readonly places: readonly (readonly number[])[];
  readonly settled: Crystals;
  readonly fresh: Crystals;
  /** Whether any species counts for more than its solids (`Species.structure`). */
  readonly isStructured: boolean;
}

/** ln K = heat (1/T - 1/Tm), with heat = dH/R [K] and Tm [K]; all by place of the species. */
export interface Crystals {
  readonly heat: readonly number[];
  readonly meltingK: readonly number[];
  /** K over that of a lauric species melting at 25 C: one heat for all makes one exponential do for all of them. */
  readonly relativeK: readonly number[];
  /** Constants of whole degrees, which are asked for again and again. */
  readonly kept: Map<number, Constants>;
  /** Constants of the few other temperatures asked for last: rules ask for the same ones of every blend. */
  readonly passing: Passing[];
}

interface Passing {
  celsius: number;
  readonly constants: Constants;
}

/** The species at one temperature. */
export interface Constants {
  /** Places: those alone and below their melting point, then the lauric ones, then those that are liquid anyway. */
  readonly order: Uint16Array;
  alone: number;
  solid: number;
  /** In that order: 1/K of those alone, K of the lauric ones. */
  readonly k: Float64Array;
}

const GAS_CONSTANT = 8.314462618; // J/mol K, CODATA 2018
/** One over the melting point that lauric constants are told against [1/K] */
const LAURIC_K_IS_1_AT = 1 / (ZERO_C + 25);

/** Stands for "has no such crystal": melts at absolute zero. */
const NEVER: PureFat = { meltingK: 1, fusionJPerMol: 0 };

/** Sets of ingredients kept ready, some tens of kilobytes each; one more and the oldest is worked out again. */
const FRAMES_MOST = 160;

/** Rules ask for four temperatures of a blend at most. */
const PASSING_MOST = 4;

const frames = new Map<string, Frame>();

/** The frame of some ingredients, in this order. */
export function frameOf(profiles: readonly FatProfile[]): Frame {
  let key = "";
  for (const { number } of profiles) key += `${number} `;
  let frame = frames.get(key);
  if (!frame) {
    if (frames.size >= FRAMES_MOST) frames.delete(frames.keys().next().value!);
    frames.set(key, (frame = build(profiles)));
  }
  return frame;
}

function build(profiles: readonly FatProfile[]): Frame {
  const all = new Set(profiles.flatMap(({ species }) => species.map((each) => each.species)));
  const alone = [...all].filter(({ lauric }) => !lauric);
  const species = [...alone, ...[...all].filter(({ lauric }) => lauric)];
  const place = new Map(species.map((each, at) => [each, at]));
  return {
    species,
    lauricFrom: alone.length,
    places: profiles.map((profile) => profile.species.map((each) => place.get(each.species)!)),
    settled: crystals(species, "settled"),
    fresh: crystals(species, "fresh"),
    isStructured: species.some(({ structure }) => structure !== undefined),
  };
}

function crystals(species: readonly Species[], state: FatState): Crystals {
  const pure = species.map((each) => each[state] ?? NEVER);
  const heat = pure.map(({ fusionJPerMol }) => fusionJPerMol / GAS_CONSTANT);
  const meltingK = pure.map((crystal) => crystal.meltingK);
  const relativeK = species.map(({ lauric }, i) =>
    lauric ? Math.exp(heat[i]! * (LAURIC_K_IS_1_AT - 1 / meltingK[i]!)) : 0,
  );
  return { heat, meltingK, relativeK, kept: new Map(), passing: [] };
}

function room(count: number): Constants {
  return { order: new Uint16Array(count), alone: 0, solid: 0, k: new Float64Array(count) };
}

/** The species at a temperature [C]; good until the next call. */
export function constantsAt(frame: Frame, state: FatState, celsius: number): Constants {
  const crystals = frame[state];
  if (!Number.isInteger(celsius)) return passingAt(crystals, frame, celsius);
  const known = crystals.kept.get(celsius);
  if (known) return known;
  const into = room(frame.species.length);
  crystals.kept.set(celsius, into);
  reckon(into, crystals, frame.lauricFrom, celsius + ZERO_C);
  return into;
}

/** The one asked for last comes first, and the one not asked for longest is written over. */
function passingAt(crystals: Crystals, { species, lauricFrom }: Frame, celsius: number): Constants {
  const { passing } = crystals;
  let at = 0;
  while (at < passing.length && passing[at]!.celsius !== celsius) at++;
  let found = passing[at];
  if (!found) {
    if (passing.length < PASSING_MOST) passing.push({ celsius, constants: room(species.length) });
    at = passing.length - 1;
    found = passing[at]!;
    found.celsius = celsius;
    reckon(found.constants, crystals, lauricFrom, celsius + ZERO_C);
  }
  for (; at > 0; at--) passing[at] = passing[at - 1]!;
  passing[0] = found;
  return found.constants;
}

function reckon(
  into: Constants,
  { heat, meltingK, relativeK }: Crystals,
  lauricFrom: number,
  kelvin: number,
): void {
  const { order, k } = into;
  const count = heat.length;
  const inverse = 1 / kelvin;
  let alone = 0;
  let end = count;
  for (let i = 0; i < lauricFrom; i++) {
    if (meltingK[i]! > kelvin) {
      order[alone] = i;
      k[alone++] = Math.exp(heat[i]! * (1 / meltingK[i]! - inverse));
    } else order[--end] = i;
  }
  let solid = alone;
  const lauricK = Math.exp((heat[lauricFrom] ?? 0) * (inverse - LAURIC_K_IS_1_AT));
  for (let i = lauricFrom; i < count; i++) {
    order[solid] = i;
    k[solid++] = lauricK * relativeK[i]!;
  }
  into.alone = alone;
  into.solid = solid;
}
