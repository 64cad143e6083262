/**
 * What cuts the room: for every rule the refused choices it stands against and those it alone refuses; for every
 * bound what lies beyond it and would pass.
 */
import { type Estimate, exactly, sampled } from "./interval.ts";
import { countPorePassing } from "./pore-count.ts";
import { BIT, REASONS, type Reason, type Referee } from "./referee.ts";
import type { Chance } from "./sequence.ts";
import { type Space, withBounds } from "./space.ts";
import { type Tally, countKinds, drawPoints, passedOf } from "./survey.ts";
import type { Rules } from "../../judge/verdict.ts";

export interface RuleCut {
  readonly reason: Reason;
  /** Part of the refused choices it stands against, alone or with others; nothing when none was refused. */
  readonly ofRefused?: number;
  /** Part of all choices that it alone refuses: what more would pass without it. */
  readonly alone: Estimate;
  /** Part of all choices it stands against, counted exactly; for the pore rule (both reasons together). */
  readonly counted?: number;
}

export interface BoundCut {
  /** Ingredient id of a butter, or id of a place. */
  readonly subject: string;
  readonly end: "least" | "greatest";
  /** Where it stands [hundredths of a percent] */
  readonly share: number;
  /** How much of what lies beyond this bound, all others kept, would pass. */
  readonly beyond: Estimate;
  /** Choices beyond it for each choice inside the bounds [-]; Infinity when nothing is inside. */
  readonly size: number;
  /** Orderable choices beyond it for each orderable choice inside [-]; nothing when none was found inside. */
  readonly opens?: number;
}

/** Draws beyond one bound. */
const BEYOND_DRAWS = 96;

/** Cuts of the rules that stand against anything, the one that refuses most alone first. */
export function cutsOfRules(space: Space, tally: Tally, rules: Rules): RuleCut[] {
  const refused = tally.drawn - passedOf(tally);
  const counted = countPorePassing(space, rules);
  const cuts = REASONS.flatMap((reason): RuleCut[] => {
    const bit = BIT[reason];
    const stands = countKinds(tally, (against) => (against & bit) !== 0);
    if (stands === 0) return [];
    const alone = sampled(
      countKinds(tally, (against) => against === bit),
      tally.drawn,
    );
    const isPores = reason === "pore-rating-above" || reason === "pore-rating-unrated";
    const exact = isPores && counted !== undefined ? { counted: 1 - counted } : {};
    return [{ reason, ofRefused: stands / refused, alone, ...exact }];
  });
  return cuts.sort(
    (one, other) =>
      other.alone.share - one.alone.share || (other.ofRefused ?? 0) - (one.ofRefused ?? 0),
  );
}

/**
 * Cuts of the bounds, the one that opens most first.
 * @param passing part of the choices inside that pass
 * @returns a generator that pauses after every judgement
 */
export function* cutsOfBounds(
  space: Space,
  referee: Referee,
  passing: number,
  chance: Chance,
): Generator<undefined, BoundCut[]> {
  const cuts: BoundCut[] = [];
  for (const [at, { subject, least, greatest }] of space.slots.entries()) {
    for (const end of ["least", "greatest"] as const) {
      const bound =
        end === "least"
          ? { least: 0, greatest: least - 1 }
          : { least: greatest + 1, greatest: space.total };
      if (bound.least > bound.greatest) continue;
      const bounds = space.slots.map((slot, each) => (each === at ? bound : slot));
      const beyond = withBounds(space, bounds);
      const share = end === "least" ? least : greatest;
      if (beyond.lattice.count === 0 || space.combinations === 0) {
        cuts.push({ subject, end, share, beyond: exactly(0, "counted"), size: 0, opens: 0 });
        continue;
      }
      let hits = 0;
      let drawn = 0;
      const judge = referee.within(beyond).judge;
      for (const point of drawPoints(beyond, BEYOND_DRAWS, chance)) {
        if (judge(point).against === 0) hits++;
        drawn++;
        yield;
      }
      const size = beyond.lattice.count / space.lattice.count;
      const estimate = sampled(hits, drawn);
      const opens = passing > 0 ? { opens: (size * estimate.share) / passing } : {};
      cuts.push({ subject, end, share, beyond: estimate, size, ...opens });
    }
  }
  return cuts.sort((one, other) => gain(other) - gain(one));
}

function gain({ opens, size, beyond }: BoundCut): number {
  return opens ?? size * beyond.share;
}

/** Draws that the bounds of a space take. */
export function boundDraws({ slots, total }: Space): number {
  const ends = slots.reduce(
    (sum, { least, greatest }) => sum + (least > 0 ? 1 : 0) + (greatest < total ? 1 : 0),
    0,
  );
  return ends * BEYOND_DRAWS;
}
