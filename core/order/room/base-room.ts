/**
 * The room of one base, from the first draw to the last change worth trying.
 */
import type { Choice, Product } from "../../compose/product.ts";
import type { JudgingGround } from "../rule-check.ts";
import type { Mending } from "./change.ts";
import { leastOf } from "./corners.ts";
import { type BoundCut, type RuleCut, boundDraws, cutsOfBounds, cutsOfRules } from "./cuts.ts";
import { type Extremes, searchEnds } from "./extremes.ts";
import { type Estimate, exactly, sampled } from "./interval.ts";
import { type JarRoom, jarTallies } from "./jar-room.ts";
import { mendBase } from "./mend.ts";
import { type OilRoom, lookAtOils } from "./oils.ts";
import type { Tariffs } from "./prices.ts";
import { type Proof, proveRoom } from "./proof.ts";
import { BIT, type Reason, refereeOf } from "./referee.ts";
import { searchPassing } from "./search.ts";
import { chanceFrom } from "./sequence.ts";
import { type Space, choiceOf, copyOf, ownPoint } from "./space.ts";
import { countKinds, nearestMisses, passedOf, survey } from "./survey.ts";

export interface BaseRoom {
  readonly base: string;
  readonly combinations: number;
  /** Sets of whole shares that keep to the bounds, for each combination; a double, exact up to 2^53. */
  readonly shareSets: number;
  /** Part of the choices that may be ordered. */
  readonly room: Estimate;
  /** Of a proof that none passes, the reason; "bounds" when the bounds cannot make the whole. */
  readonly because?: Reason | "bounds";
  /** Part of the choices that no rule refuses and yet cannot be judged. */
  readonly undecided: number;
  /** Whether at least one choice is known that may be ordered. */
  readonly isOpen: boolean;
  /** One that may be ordered; the maker's own where it passes. */
  readonly example?: Choice;
  /** Whether the maker's own blend may be ordered. */
  readonly ownPasses: boolean;
  readonly jars: readonly JarRoom[];
  readonly rules: readonly RuleCut[];
  readonly bounds: readonly BoundCut[];
  readonly oils: readonly OilRoom[];
  readonly ends: Extremes;
  /** Only for a base without an orderable choice. */
  readonly mendings: readonly Mending[];
}

export interface BaseWork {
  readonly product: Product;
  readonly space: Space;
  readonly ground: JudgingGround;
  readonly tariffs: Tariffs | undefined;
  readonly draws: number;
  readonly seed: number;
}

/** Draws from which a search climbs where none of them passes. */
const MISSES = 4;
/** What the search for the ends of a room takes, about. */
const ENDS_PLANNED = 4000;

/** Blends that the work on a base will judge, about. */
export function plannedFor(space: Space, draws: number): number {
  const { combinations } = space;
  const each = combinations <= draws ? Math.ceil(draws / combinations) * combinations : draws;
  return each + boundDraws(space) + ENDS_PLANNED;
}

/** The work on one base: a generator that pauses after every judgement. */
export function* baseWork(work: BaseWork): Generator<undefined, BaseRoom> {
  const { product, space, ground, tariffs, draws, seed } = work;
  const chance = chanceFrom(seed);
  const referee = refereeOf(space, ground);
  const ends = searchEnds(space, referee, product.jars, tariffs);
  const jars = jarTallies(space, product.jars, tariffs);
  const own = ownPoint(space);
  const ownPasses = own !== undefined && referee.judge(own).against === 0;
  let example = ownPasses ? own : undefined;
  const tally = yield* survey(space, referee, draws, chance, (point) => {
    example ??= copyOf(point);
    ends.see(point);
    jars.see(point);
  });
  const misses = example ? [] : nearestMisses(tally, MISSES);
  const proof = proofOf(space, ground);
  const isHopeless = space.lattice.count === 0 || proof?.proven === "none";
  if (!example && !isHopeless) {
    const starts = [...(own ? [own] : []), ...misses];
    example = yield* searchPassing(space, referee, chance, starts);
    if (example) ends.see(example);
  }
  const room = roomOf(space, proof, passedOf(tally), tally.drawn);
  const because = becauseOf(space, proof);
  return {
    base: space.base.id,
    combinations: space.combinations,
    shareSets: space.lattice.count,
    room,
    ...(because ? { because } : {}),
    undecided: undecided(tally),
    isOpen: example !== undefined,
    ...(example ? { example: choiceOf(space, example) } : {}),
    ownPasses,
    jars: jars.rooms(tally.drawn, room),
    rules: tally.drawn > 0 ? cutsOfRules(space, tally, ground.rules) : [],
    bounds: yield* cutsOfBounds(space, referee, room.share, chance),
    oils: yield* lookAtOils({ space, ground, referee, tally, chance, example, because }),
    ends: yield* ends.finish(),
    mendings: example ? [] : yield* mendBase({ product, space, ground, referee, chance, misses }),
  };
}

function proofOf(space: Space, ground: JudgingGround): Proof | undefined {
  const { slots, total, lattice, combinations } = space;
  if (lattice.count === 0 || combinations === 0) return undefined;
  return proveRoom(
    space,
    ground,
    leastOf(
      slots,
      total,
      slots.map(() => 0),
    ),
  );
}

function roomOf(
  { lattice, combinations }: Space,
  proof: Proof | undefined,
  passed: number,
  drawn: number,
) {
  if (lattice.count === 0 || combinations === 0) return exactly(0, "counted");
  if (proof) return exactly(proof.proven === "all" ? 1 : 0, "proven");
  return sampled(passed, drawn);
}

function becauseOf({ lattice, combinations }: Space, proof: Proof | undefined) {
  if (lattice.count === 0 || combinations === 0) return "bounds";
  return proof?.proven === "none" ? proof.because : undefined;
}

function undecided(tally: Parameters<typeof countKinds>[0]): number {
  if (tally.drawn === 0) return 0;
  const open = BIT["pore-rating-unrated"] | BIT["cannot-judge"];
  return countKinds(tally, (against) => against > 0 && (against & ~open) === 0) / tally.drawn;
}
