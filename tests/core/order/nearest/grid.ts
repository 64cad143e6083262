/**
 * The slow way to the nearest orderable blend, to check the quick one by: every oil in every place, every share on a
 * fine grid laid through the chosen shares and the bounds. Only what is dearer than a blend already known is skipped.
 */
import { makeBlend } from "#core/blend.ts";
import type { Bound, Choice, Product } from "#core/compose/product.ts";
import type { Ingredient } from "#core/ingredient.ts";
import { ruleChecker } from "#core/order/rule-check.ts";

export interface Grid {
  /** [hundredths of a percent] */
  readonly step: number;
  /** Share moved from which on nothing is looked at [hundredths of a percent] */
  readonly limit: number;
}

/**
 * Least share moved on the grid.
 * @param choice its shares sum to what the additives leave
 * @returns nothing when no blend of the grid passes that moves less than the limit
 */
export function bestOnGrid(
  product: Product,
  choice: Choice,
  ingredientOf: (id: string) => Ingredient | undefined,
  { step, limit }: Grid,
): number | undefined {
  const base = product.bases.find(({ id }) => id === choice.base)!;
  const bounds: Bound[] = [...base.butters, ...base.oils];
  const additives = product.additives.map(({ ingredient, share }) => ({
    ingredient: ingredientOf(ingredient)!,
    share,
  }));
  const total = additives.reduce((left, { share }) => left - share, 10_000);
  const check = ruleChecker(product);
  let best: number | undefined;
  const options = [
    ...base.butters.map(({ ingredient }) => [ingredient]),
    ...base.oils.map(({ place }) => product.places.find(({ id }) => id === place)!.allowed),
  ];
  for (const ids of combinations(options)) {
    const wanted = ids.map((id, at) => (ids.indexOf(id) === at ? chosenOf(choice, id) : 0));
    const gone = [...choice.butters, ...choice.oils]
      .filter(({ ingredient }) => !ids.includes(ingredient))
      .reduce((sum, { share }) => sum + share, 0);
    const isTwice = ids.map((id) => ids.indexOf(id) !== ids.lastIndexOf(id));
    const lines = bounds.map((bound, at) => gridOf(bound, wanted[at]!, step));
    const ingredients = ids.map((id) => ingredientOf(id)!);
    const visit = (
      at: number,
      left: number,
      rise: number,
      fall: number,
      shares: number[],
    ): void => {
      if (Math.max(rise, fall) >= (best ?? limit)) return;
      const isLast = at === bounds.length - 1;
      const { least, greatest } = bounds[at]!;
      const line = !isLast ? lines[at]! : left >= least && left <= greatest ? [left] : [];
      for (const share of line) {
        if (share > left) continue;
        // What stands in two places is counted when both are known.
        const more = isTwice[at] ? 0 : share - wanted[at]!;
        const next = [...shares, share];
        if (!isLast) {
          visit(at + 1, left - share, rise + Math.max(0, more), fall + Math.max(0, -more), next);
          continue;
        }
        const moved = movedTo(choice, ids, next);
        if (moved >= (best ?? limit)) continue;
        const made = makeBlend([
          ...ingredients.map((ingredient, i) => ({ ingredient, share: next[i]! })),
          ...additives,
        ]);
        if ("blend" in made && check(made.blend).passes) best = moved;
      }
    };
    visit(0, total, 0, gone, []);
  }
  return best;
}

/** Every way to take one of each list. */
export function combinations(lists: readonly (readonly string[])[]): string[][] {
  return lists.reduce<string[][]>(
    (ways, list) => ways.flatMap((way) => list.map((each) => [...way, each])),
    [[]],
  );
}

/** Half of what goes and comes, by ingredient. */
export function movedTo(choice: Choice, ids: readonly string[], shares: readonly number[]): number {
  const all = new Set([
    ...ids,
    ...[...choice.butters, ...choice.oils].map((each) => each.ingredient),
  ]);
  let sum = 0;
  for (const id of all) {
    const now = ids.reduce((total, each, at) => total + (each === id ? shares[at]! : 0), 0);
    sum += Math.abs(now - chosenOf(choice, id));
  }
  return sum / 2;
}

function chosenOf({ butters, oils }: Choice, id: string): number {
  return [...butters, ...oils]
    .filter(({ ingredient }) => ingredient === id)
    .reduce((sum, { share }) => sum + share, 0);
}

/** Shares inside a bound: its ends, and steps from the wanted share outwards, the nearest first. */
function gridOf({ least, greatest }: Bound, wanted: number, step: number): number[] {
  const middle = Math.min(greatest, Math.max(least, wanted));
  const line = new Set([middle]);
  for (let away = step; away <= greatest - least; away += step) {
    for (const share of [middle + away, middle - away]) {
      if (share >= least && share <= greatest) line.add(share);
    }
  }
  return [...line, least, greatest];
}
