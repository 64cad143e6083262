/**
 * The ways to put an oil into every place, those that move least first.
 */
import type { Ingredient } from "../../ingredient.ts";
import { type Filling, type Slot, fillingOf, leastCostOf } from "../nearest/scene.ts";
import { WEIGHT, familiesBrought } from "./objective.ts";
import { UNITS } from "./plan.ts";
import type { Task } from "./task.ts";

export interface Way {
  readonly filling: Filling;
  /** What it cannot come below, no limit looked at [units] */
  readonly floor: number;
}

/** More ways than this, and only those with the fewest swaps are looked at. */
const WAYS_MOST = 4000;

/** One slot filled; emptied where it is to hold nothing. */
interface Picked {
  readonly slot: Slot;
  readonly ingredient: Ingredient;
  readonly isSwap: boolean;
}

export function waysOf(task: Task): { ways: Way[]; isWhole: boolean } {
  const { picked, isWhole } = picksOf(task);
  const ways = picked
    .map((picks) =>
      fillingOf(
        { ...task.scene, slots: picks.map(({ slot }) => slot) },
        picks.map(({ ingredient }) => ingredient),
      ),
    )
    .map((filling) => ({ filling, floor: leastCostOf(filling) + broughtUnits(task, filling) }))
    .filter(({ floor }) => floor < Infinity)
    .sort((one, other) => one.floor - other.floor);
  return { ways, isWhole };
}

/** Families that a filling brings for certain. */
function broughtUnits({ objective }: Task, { aim }: Filling): number {
  const certain = aim.movable
    .filter(({ least }) => least > 0)
    .map(({ ingredient, least: share }) => ({ ingredient, share }));
  return UNITS * WEIGHT.brings * familiesBrought(objective.reference, certain).length;
}

function picksOf(task: Task): { picked: Picked[][]; isWhole: boolean } {
  const lists = task.scene.slots.map((slot, at) => picksFor(task, slot, at));
  for (let swapsMost = lists.length; ; swapsMost--) {
    const isWhole = swapsMost === lists.length;
    const picked = combine(lists, swapsMost);
    if (picked || swapsMost === 0) return { picked: picked ?? [], isWhole };
  }
}

/** Every way with so many swaps at most; nothing when they are too many. */
function combine(lists: readonly Picked[][], swapsMost: number): Picked[][] | undefined {
  let ways: { picks: Picked[]; swaps: number }[] = [{ picks: [], swaps: 0 }];
  for (const list of lists) {
    const longer: typeof ways = [];
    for (const { picks, swaps } of ways) {
      for (const pick of list) {
        const more = swaps + (pick.isSwap ? 1 : 0);
        if (more > swapsMost) continue;
        if (longer.length >= WAYS_MOST) return undefined;
        longer.push({ picks: [...picks, pick], swaps: more });
      }
    }
    ways = longer;
  }
  return ways.map(({ picks }) => picks);
}

function picksFor({ scene, mayBeEmpty, desk }: Task, slot: Slot, at: number): Picked[] {
  const isWanted = ({ id }: Ingredient) => scene.wanted.has(id);
  const hasWanted = slot.options.some(isWanted);
  const picks = slot.options.map((ingredient) => ({
    ...{ slot, ingredient },
    isSwap: hasWanted && !isWanted(ingredient),
  }));
  if (picks.length > 0 && !mayBeEmpty[at]) return picks;
  // With nothing in it any allowed ingredient may give its name.
  const names = slot.options.length > 0 ? slot.options : (desk.optionsAt[at] ?? []);
  if (slot.least > 0 || names.length === 0) return picks;
  return [{ slot: { ...slot, greatest: 0 }, ingredient: names[0]!, isSwap: false }, ...picks];
}
