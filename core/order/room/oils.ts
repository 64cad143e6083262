/**
 * Oils that a place allows and no customer can ever order: each one is looked for hard before it is called dead, and
 * it is said whether that is proven or only that nothing was found.
 */
import type { Choice } from "../../compose/product.ts";
import type { JudgingGround } from "../rule-check.ts";
import { leastOf } from "./corners.ts";
import { type Estimate, sampled } from "./interval.ts";
import { proveRoom } from "./proof.ts";
import type { Reason, Referee } from "./referee.ts";
import { searchNear, searchPassing } from "./search.ts";
import type { Chance } from "./sequence.ts";
import { type Point, type Space, choiceOf, pressInto, withBounds } from "./space.ts";
import type { Tally } from "./survey.ts";

export interface OilRoom {
  readonly place: string;
  readonly ingredient: string;
  /** How much of what the bounds allow with this oil passes; nothing when there is nothing to draw. */
  readonly room?: Estimate;
  /**
   * Orderable by the sample; rare when only a search found it; dead when a proof says so; not found when the search
   * found nothing and no proof did either.
   */
  readonly state: "orderable" | "rare" | "dead" | "not-found";
  /** Why it is dead. */
  readonly because?: Reason | "bounds";
  /** One orderable choice with a rare oil. */
  readonly example?: Choice;
}

interface OilWork {
  readonly space: Space;
  readonly ground: JudgingGround;
  readonly referee: Referee;
  readonly tally: Tally;
  readonly chance: Chance;
  /** One that may be ordered; nothing where the whole base was searched in vain. */
  readonly example: Point | undefined;
  /** Why nothing at all passes, where that is proven: then every oil is dead for it. */
  readonly because: Reason | "bounds" | undefined;
}

/**
 * Look at every allowed oil.
 * @returns a generator that pauses after every judgement
 */
export function* lookAtOils(work: OilWork): Generator<undefined, OilRoom[]> {
  const { space, tally, because } = work;
  const found: OilRoom[] = [];
  for (const [at, slot] of space.slots.entries()) {
    if (slot.kind !== "place") continue;
    for (const [option, number] of slot.options.entries()) {
      const { drawn, passed } = tally.options[at]![option]!;
      const oil = {
        ...{ place: slot.subject, ingredient: space.ingredients[number]!.id },
        ...(drawn > 0 ? { room: sampled(passed, drawn) } : {}),
      };
      if (passed > 0) found.push({ ...oil, state: "orderable" });
      else if (because) found.push({ ...oil, state: "dead", because });
      else found.push({ ...oil, ...(yield* seek(work, at, option)) });
    }
  }
  return found;
}

/** A proof takes about as long as judging so many blends, so that slices stay short. */
const PROOF_BLENDS = 50;

type Sought = Pick<OilRoom, "state" | "because" | "example">;

function* seek(work: OilWork, at: number, option: number): Generator<undefined, Sought> {
  const { space, ground, referee, chance, tally, example } = work;
  const narrow = onlyWith(space, at, option);
  if (narrow.lattice.count === 0) return { state: "dead", because: "bounds" };
  const start = leastOf(
    narrow.slots,
    narrow.total,
    narrow.slots.map(() => 0),
  );
  const proof = proveRoom(narrow, ground, start);
  for (let blend = 0; blend < PROOF_BLENDS; blend++) yield;
  if (proof?.proven === "none") return { state: "dead", because: proof.because };
  if (!example) return { state: "not-found" };
  const { best } = tally.options[at]![option]!;
  // The search may begin with less than a trace, where the pore rule lets an oil pass.
  const traces = traceOf(narrow, at, ground);
  for (const each of [narrow, ...(traces ? [traces] : [])]) {
    const starts = [example, ...(best ? [best.point] : [])].flatMap(({ options, shares }) => {
      const own = options.map((chosen, slot) => (slot === at ? 0 : chosen));
      return pressInto(each, { options: own, shares }) ?? [];
    });
    const judge = referee.within(each);
    // Where the survey met the oil, its draws were more than the search's own would be.
    const point = best
      ? yield* searchNear(each, judge, starts)
      : yield* searchPassing(each, judge, chance, starts);
    if (point) return { state: "rare", example: choiceOf(each, point) };
  }
  return { state: "not-found" };
}

/** The space in which a slot holds one oil, and some of it. */
function onlyWith(space: Space, at: number, option: number): Space {
  const slots = space.slots.map((slot, each) =>
    each === at
      ? { ...slot, options: [slot.options[option]!], own: 0, least: Math.max(1, slot.least) }
      : slot,
  );
  const combinations = slots.reduce((count, { options }) => count * options.length, 1);
  return withBounds({ ...space, slots, combinations }, slots);
}

/** The same with less of it than counts for the pore rule; nothing when the rule knows no traces. */
function traceOf(space: Space, at: number, { rules }: JudgingGround): Space | undefined {
  const below = rules.poreTraceBelowShare ?? 0;
  const { least, greatest } = space.slots[at]!;
  if (below <= least || below > greatest) return undefined;
  const bounds = space.slots.map((slot, each) =>
    each === at ? { least, greatest: below - 1 } : slot,
  );
  const cut = withBounds(space, bounds);
  return cut.lattice.count > 0 ? cut : undefined;
}
