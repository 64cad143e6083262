/**
 * Why no blend keeps all wishes: which single wish would have to go, or what stands against it by itself.
 */
import { COLDEST_C } from "../../judge/softening.ts";
import { judgeBlend } from "../../judge/verdict.ts";
import type { Fit } from "./shift.ts";
import { type Searched, isMet, searchWished } from "./search.ts";
import { type Desk, type Task, additiveForbids, taskOf } from "./task.ts";
import { type Wish, type Wishes, allBut, oneByOne } from "./wish.ts";

export interface WishConflict {
  /** The wish with which no blend is left while all others are kept. */
  readonly wish: Wish;
  /**
   * What it comes up against: an ingredient that is in every jar of the base, a scent that is not on record, or the
   * maker's rules and bounds together with the other wishes.
   */
  readonly against: "always-in-the-jar" | "scent-untold" | "rules-and-bounds";
  /** Ingredients, where it is they. */
  readonly subjects: readonly string[];
  /** The most that can be kept to, or the least that must be paid, where the wish is a figure. */
  readonly couldBe?: number;
}

export interface Unmet {
  /** Empty when no single wish stands in the way: two or more would have to go, or the rules let nothing through. */
  readonly because: readonly WishConflict[];
  /** The best that keeps all wishes but one. */
  readonly nearest?: { readonly task: Task; readonly fit: Fit; readonly without: Wish };
  /** Whether a blend passes once every wish is let go; if not, the maker's own rules and bounds stand in the way. */
  readonly isOrderable: boolean;
}

/**
 * Let each wish go by itself. Every step is one search, so that a page can draw breath between them.
 */
export function* unmetSteps(desk: Desk, wishes: Wishes): Generator<undefined, Unmet> {
  const because: WishConflict[] = [];
  let nearest: Unmet["nearest"];
  const list = oneByOne(wishes);
  for (const wish of list) {
    yield;
    const task = taskOf(desk, allBut(wishes, wish));
    const fit = bestOf(desk, task);
    if (!fit) continue;
    const could = yield* couldBe(desk, wishes, wish, fit);
    because.push({ wish, ...againstOf(desk, wish), ...could });
    if (!nearest || fit.score < nearest.fit.score) nearest = { task, fit, without: wish };
  }
  const isOrderable = nearest !== undefined || (list.length > 1 && passes(desk, {}));
  return { because, ...(nearest ? { nearest } : {}), isOrderable };
}

function bestOf(desk: Desk, task: Task): Fit | undefined {
  return searchAllowed(desk, task, 1).fits[0];
}

/** Whether any blend keeps the wishes. */
function passes(desk: Desk, wishes: Wishes): boolean {
  const task = taskOf(desk, wishes);
  return !isForbidden(desk, task) && isMet(task);
}

/** The search, unless the maker's additives already stand against a wish. */
export function searchAllowed(desk: Desk, task: Task, most?: number): Searched {
  return isForbidden(desk, task) ? { fits: [], isWhole: true } : searchWished(task, most);
}

function isForbidden(desk: Desk, { wishes }: Task): boolean {
  return alwaysIn(desk).additives.some((each) => additiveForbids(wishes, each));
}

/** What every jar of the base holds. */
function alwaysIn({ product, base, ground }: Desk) {
  const known = (ids: readonly string[]) => ids.flatMap((id) => ground.ingredientOf(id) ?? []);
  const butters = base.butters.filter(({ least }) => least > 0);
  return {
    additives: known(
      product.additives.filter(({ share }) => share > 0).map(({ ingredient }) => ingredient),
    ),
    butters: known(butters.map(({ ingredient }) => ingredient)),
  };
}

function againstOf(desk: Desk, wish: Wish): Pick<WishConflict, "against" | "subjects"> {
  const alone = onlyOf(wish);
  const { additives, butters } = alwaysIn(desk);
  const { isUnwished } = taskOf(desk, alone);
  const held = [
    ...additives.filter((each) => additiveForbids(alone, each)),
    ...butters.filter(isUnwished),
  ];
  const ids = (list: typeof held) => [...new Set(list.map(({ id }) => id))];
  const certain = held.filter(({ scented }) => wish.wish !== "unscented" || scented === true);
  if (certain.length > 0) return { against: "always-in-the-jar", subjects: ids(certain) };
  if (wish.wish === "unscented") {
    const choices = [...butters, ...desk.optionsAt.flat()];
    const untold = choices.filter(({ scented }) => scented === undefined);
    if (untold.length > 0) return { against: "scent-untold", subjects: ids(untold) };
  }
  return { against: "rules-and-bounds", subjects: [] };
}

/** The wish alone. */
function onlyOf(wish: Wish): Wishes {
  switch (wish.wish) {
    case "without":
      return { without: [wish.ingredient] };
    case "without-family":
      return { withoutFamilies: [wish.family] };
    case "unscented":
      return { unscented: true };
    default:
      return {};
  }
}

/** Searches to find the figure by halving: to a half degree. */
const WARMTH_STEP_C = 0.5;

/** @param kept a blend that keeps all the other wishes, so that what it holds to could be done for certain */
function* couldBe(
  desk: Desk,
  wishes: Wishes,
  wish: Wish,
  kept: Fit,
): Generator<undefined, Pick<WishConflict, "couldBe">> {
  if (wish.wish === "pore-rating") {
    for (let most = Math.floor(wish.most) + 1; most <= 5; most++) {
      yield;
      if (passes(desk, { ...wishes, poreRatingMost: most })) return { couldBe: most };
    }
  }
  if (wish.wish === "holds-to") {
    const least = holdsToOf(desk, kept);
    let cold = Math.max(COLDEST_C, Math.floor(least / WARMTH_STEP_C) * WARMTH_STEP_C);
    let warm = wish.celsius;
    while (warm - cold > WARMTH_STEP_C) {
      yield;
      const middle = Math.round((cold + warm) / 2 / WARMTH_STEP_C) * WARMTH_STEP_C;
      if (middle <= cold || middle >= warm) break;
      if (passes(desk, { ...wishes, holdsToCelsius: middle })) cold = middle;
      else warm = middle;
    }
    return { couldBe: cold };
  }
  return {};
}

/** What a fit keeps its body to, as strictly as the maker's rule [C] */
function holdsToOf({ product, ground }: Desk, { parts }: Fit): number {
  const { useCelsius, airFraction, rules } = product;
  const { softensAboveCelsius, softensAboveLeastCelsius } = judgeBlend(
    { parts },
    { celsius: [], useCelsius, airFraction, rules, law: ground.law },
  );
  const holds = rules.strictness === "central" ? softensAboveCelsius : softensAboveLeastCelsius;
  return holds ?? COLDEST_C;
}
