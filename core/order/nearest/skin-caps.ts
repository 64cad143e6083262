/**
 * Bounds drawn in so that no shares inside them bring more to skin than they may.
 *
 * Where one movable ingredient brings what is limited, as good as always, its bound is exact. Where several do, each is
 * given what is wanted of it while the limit lasts, those that bring least first, for so the least is moved; what is
 * left over goes to them in the same order. What is found passes; a blend that would take more of one of them and less
 * of another is not looked at. Such oils are a percent or two of a jar.
 */
import type { Part } from "../../blend.ts";
import { type SkinLimit, skinLimits } from "../../judge/dermal.ts";
import type { Movable } from "./aim.ts";

/** @returns the parts with greatest shares drawn in; one below its least says that no shares pass */
export function withinSkinLimits(
  movable: readonly Movable[],
  fixed: readonly Part[],
): readonly Movable[] {
  const limits = skinLimits([...movable, ...fixed].map(({ ingredient }) => ingredient));
  // First what each could be by itself, so that nothing is dealt out that another limit takes away again.
  const alone = limits.reduce((within, limit) => eachAlone(within, fixed, limit), movable);
  return limits.reduce((within, limit) => dealtOut(within, fixed, limit), alone);
}

type Holding = Pick<Part, "ingredient">;

const weightIn = ({ weights }: SkinLimit, { ingredient }: Holding) =>
  weights.get(ingredient.id) ?? 0;

/** What a limit leaves beyond the fixed parts and the least of the others. */
function leftOf(movable: readonly Movable[], fixed: readonly Part[], limit: SkinLimit): number {
  const always = fixed.reduce((sum, each) => sum + weightIn(limit, each) * each.share, 0);
  return movable.reduce(
    (left, each) => left - weightIn(limit, each) * each.least,
    limit.most - always,
  );
}

function eachAlone(
  movable: readonly Movable[],
  fixed: readonly Part[],
  limit: SkinLimit,
): readonly Movable[] {
  const left = leftOf(movable, fixed, limit);
  return movable.map((each) => {
    const weight = weightIn(limit, each);
    if (weight === 0) return each;
    const most = left < 0 ? each.least - 1 : each.least + Math.floor(left / weight);
    return { ...each, greatest: Math.min(each.greatest, most) };
  });
}

function dealtOut(
  movable: readonly Movable[],
  fixed: readonly Part[],
  limit: SkinLimit,
): readonly Movable[] {
  let left = leftOf(movable, fixed, limit);
  const weight = (each: Movable) => weightIn(limit, each);
  const room = movable.reduce((sum, each) => sum + weight(each) * (each.greatest - each.least), 0);
  if (room <= left || left < 0) return movable;
  const bringing = movable
    .filter((each) => weight(each) > 0)
    .sort((one, other) => weight(one) - weight(other));
  const given = new Map(bringing.map((each) => [each, each.least]));
  const give = (each: Movable, upTo: number) => {
    const more = Math.floor(Math.min(upTo - given.get(each)!, left / weight(each)));
    if (more <= 0) return;
    left -= more * weight(each);
    given.set(each, given.get(each)! + more);
  };
  for (const each of bringing) give(each, Math.min(each.greatest, each.wanted.least));
  for (const each of bringing) give(each, each.greatest);
  return movable.map((each) => ({ ...each, greatest: given.get(each) ?? each.greatest }));
}
