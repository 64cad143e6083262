/**
 * A product's base and a choice, as the search sees them: slots with bounds and the ingredients that may stand in
 * them, what is wanted, and how much of an ingredient the rules let in at all.
 */
import { type Part, WHOLE } from "../../blend.ts";
import {
  type Base,
  type Bound,
  type Choice,
  type Product,
  allowedAt,
} from "../../compose/product.ts";
import type { Ingredient } from "../../ingredient.ts";
import { compositionFindings } from "../../judge/composition.ts";
import { untoldFindings } from "../../judge/dermal.ts";
import { poreFindings } from "../../judge/pore-rating.ts";
import type { Rules } from "../../judge/verdict.ts";
import { weightOf } from "../../finding.ts";
import { type Aim, type Movable, sumOf } from "./aim.ts";
import { withinSkinLimits } from "./skin-caps.ts";

export interface Slot extends Bound {
  /** Ingredient of the butter, or id of the place. */
  readonly id: string;
  /** What may stand here: one butter, or the oils of the place. */
  readonly options: readonly Ingredient[];
  /** Shares that are as good as one another, where it is not the choice that is to be kept near to. */
  readonly wanted?: Bound;
}

export interface Scene {
  readonly slots: readonly Slot[];
  /** Parts that stay. */
  readonly fixed: readonly Part[];
  /** What the choice holds, by ingredient [hundredths of a percent] */
  readonly wanted: ReadonlyMap<string, number>;
  readonly rules: Rules;
}

/** Every ingredient that a blend of the scene may hold. */
export function ingredientsIn({ slots, fixed }: Scene): Ingredient[] {
  return [...slots.flatMap(({ options }) => options), ...fixed.map(({ ingredient }) => ingredient)];
}

/** One way to fill the slots, and the shares to be found for it. */
export interface Filling {
  /** In the order of the slots. */
  readonly ingredients: readonly Ingredient[];
  readonly aim: Aim;
  /** What the choice holds of ingredients that do not stand here [hundredths of a percent] */
  readonly gone: number;
}

/** The scene of a base. */
export function sceneOf(
  product: Product,
  base: Base,
  choice: Choice,
  ingredientOf: (id: string) => Ingredient | undefined,
): Scene {
  const known = (ids: readonly string[]) => ids.flatMap((id) => ingredientOf(id) ?? []);
  const wanted = new Map<string, number>();
  for (const { ingredient, share } of [...choice.butters, ...choice.oils]) {
    wanted.set(ingredient, (wanted.get(ingredient) ?? 0) + share);
  }
  return {
    slots: [
      ...base.butters.map(({ ingredient: id, least, greatest }) => ({
        ...{ id, least, greatest },
        options: known([id]),
      })),
      ...base.oils.map(({ place: id, least, greatest }) => ({
        ...{ id, least, greatest },
        options: known(allowedAt(product, id)),
      })),
    ],
    fixed: product.additives.flatMap(({ ingredient, share }) =>
      known([ingredient]).map((each) => ({ ingredient: each, share })),
    ),
    wanted,
    rules: product.rules,
  };
}

const greatestKnown = new WeakMap<Rules, Map<Ingredient, number>>();

/** Most that the rules let in of an ingredient, whatever else is in the blend [hundredths of a percent] */
export function greatestOf(ingredient: Ingredient, rules: Rules): number {
  let known = greatestKnown.get(rules);
  if (!known) greatestKnown.set(rules, (known = new Map()));
  let share = known.get(ingredient);
  if (share === undefined) known.set(ingredient, (share = workOutGreatest(ingredient, rules)));
  return share;
}

function workOutGreatest(ingredient: Ingredient, rules: Rules): number {
  if (ingredient.ranOut) return 0;
  if (compositionFindings(ingredient).length > 0 || untoldFindings(ingredient).length > 0) return 0;
  const weighs = poreFindings({ parts: [{ ingredient, share: WHOLE }] }, rules).map(weightOf);
  const counts = weighs.some((weight) => weight !== "tells");
  return counts ? Math.max(0, (rules.poreTraceBelowShare ?? 0) - 1) : WHOLE;
}

type Written = { -readonly [Figure in keyof Movable]: Movable[Figure] };

/** What is to be found when these ingredients fill the slots. An ingredient in two slots is one part of the blend. */
export function fillingOf(scene: Scene, ingredients: readonly Ingredient[]): Filling {
  const movable: Written[] = [];
  const partOf = ({ id }: Ingredient) => movable.find(({ ingredient }) => ingredient.id === id);
  for (let at = 0; at < ingredients.length; at++) {
    const ingredient = ingredients[at]!;
    const { least, greatest, wanted } = scene.slots[at]!;
    const same = partOf(ingredient);
    if (same) widen(same, { least, greatest }, wanted);
    else {
      // What was chosen is told by ingredient; a range that a slot asks for adds to that of another slot.
      const share = wanted ? 0 : (scene.wanted.get(ingredient.id) ?? 0);
      const own = wanted ?? { least: share, greatest: share };
      movable.push({ ingredient, least, greatest, wanted: own });
    }
  }
  const fixed = scene.fixed.filter(({ ingredient, share }) => {
    const same = partOf(ingredient);
    const own = { least: share, greatest: share };
    if (same) widen(same, own, own);
    return !same;
  });
  for (const each of movable) {
    each.greatest = Math.min(each.greatest, greatestOf(each.ingredient, scene.rules));
  }
  let gone = 0;
  for (const [id, share] of scene.wanted) {
    if (!movable.some(({ ingredient }) => ingredient.id === id)) gone += share;
  }
  return { ingredients, aim: { movable: withinSkinLimits(movable, fixed), fixed }, gone };
}

function widen(part: Written, own: Bound, wanted: Bound | undefined): void {
  part.least += own.least;
  part.greatest += own.greatest;
  if (wanted) part.wanted = plus(part.wanted, wanted);
}

function plus(one: Bound, other: Bound): Bound {
  return { least: one.least + other.least, greatest: one.greatest + other.greatest };
}

/**
 * The least that a filling can cost, no rule on the solids looked at: what must go and what must come.
 * @returns Infinity when the bounds and the rules on single ingredients leave no such blend
 */
export function leastCostOf({ aim, gone }: Filling): number {
  const target = sumOf(aim);
  let cost = gone;
  let least = 0;
  let greatest = 0;
  let from = 0;
  let to = 0;
  for (const each of aim.movable) {
    if (each.least > each.greatest) return Infinity;
    const inside = (share: number) => Math.min(each.greatest, Math.max(each.least, share));
    const low = inside(each.wanted.least);
    const high = inside(each.wanted.greatest);
    cost += Math.max(0, low - each.wanted.greatest, each.wanted.least - high);
    least += each.least;
    greatest += each.greatest;
    from += low;
    to += high;
  }
  if (least > target || greatest < target) return Infinity;
  return cost + Math.max(0, from - target, target - to);
}
