/**
 * A base that cannot be ordered, and the trial of a change: nothing is proposed that was not applied and judged.
 */
import { composeBlend } from "../../compose/compose.ts";
import type { Choice, Product } from "../../compose/product.ts";
import { judgeBlend } from "../../judge/verdict.ts";
import { type JudgingGround, ruleChecker } from "../rule-check.ts";
import { type Change, type Mending, changeProduct, changeRules } from "./change.ts";
import type { Referee } from "./referee.ts";
import type { Chance } from "./sequence.ts";
import type { Point, Space } from "./space.ts";

/** A base that cannot be ordered, and what it is judged on. */
export interface Ailing {
  readonly product: Product;
  readonly space: Space;
  readonly ground: JudgingGround;
  readonly referee: Referee;
  readonly chance: Chance;
  /** The choices drawn that came nearest to passing: where a search begins. */
  readonly misses: readonly Point[];
}

/** Pauses after every judgement. */
export type Found = Generator<undefined, Mending | undefined>;

/** The change, if the choice passes once it is made. */
export function tried({ product, space, ground }: Ailing, change: Change, example: Choice) {
  const changed = changeProduct(product, space.base.id, change);
  const composed = composeBlend(changed, example, ingredientIn(space));
  if ("findings" in composed) return undefined;
  const check = ruleChecker({ ...ground, rules: changeRules(ground.rules, change) });
  return check(composed.blend).passes ? { change, example } : undefined;
}

/** What is told of a choice before any change. */
export function judged({ product, space, ground }: Ailing, choice: Choice) {
  const composed = composeBlend(product, choice, ingredientIn(space));
  return "blend" in composed ? judgeBlend(composed.blend, { ...ground, celsius: [] }) : undefined;
}

function ingredientIn({ ingredients }: Space) {
  return (id: string) => ingredients.find((each) => each.id === id);
}
