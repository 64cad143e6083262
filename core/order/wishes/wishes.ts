/**
 * Wishes: what the jar should be like instead -> up to three orderable blends that fit best, each with what it gives
 * up; or, plainly, that none can.
 *
 * Fit is the score of `objective.ts`. Everything offered was composed, judged and priced like any other choice.
 */
import type { Blend } from "../../blend.ts";
import { composeBlend } from "../../compose/compose.ts";
import type { Choice, Product } from "../../compose/product.ts";
import { type Finding, finding } from "../../finding.ts";
import { COLDEST_C, WARMEST_C } from "../../judge/softening.ts";
import { judgeBlend } from "../../judge/verdict.ts";
import type { Tariff } from "../../price/tariff.ts";
import { type Change, movedBetween } from "../nearest/nearest.ts";
import { choiceOf } from "../nearest/placing.ts";
import { sceneOf } from "../nearest/scene.ts";
import { standingFindings } from "../nearest/standing.ts";
import { type WishConflict, searchAllowed, unmetSteps } from "./conflicts.ts";
import type { Fit } from "./shift.ts";
import { type Desk, type Task, type WishGround, taskOf } from "./task.ts";
import { type Trades, tradesOf } from "./telling.ts";
import type { Wish, Wishes } from "./wish.ts";

export interface WishOffer extends Trades {
  readonly choice: Choice;
  readonly blend: Blend;
  /** 0 fits perfectly, less is better; compare offers of one answer only. */
  readonly score: number;
  /** Half of all that goes and comes [hundredths of a percent] */
  readonly moved: number;
  readonly changes: readonly Change[];
}

export interface WishesMet {
  readonly kind: "found";
  /** One to three, the best first; any two differ by their oils, or by 5 % of the jar. */
  readonly offers: readonly WishOffer[];
  /** Whether every combination of oils was in the running. */
  readonly isWhole: boolean;
}

export interface WishesUnmet {
  readonly kind: "none";
  /**
   * What stands in the way, worked out when asked for: as many searches as there are wishes, and some more. A page goes
   * step by step, one search each, so that it can answer a touch in between; `atOnce` goes to the end.
   */
  readonly explain: () => Generator<undefined, WishesExplained>;
  readonly isWhole: boolean;
}

export interface WishesExplained {
  /** Each wish that lets a blend through when it alone is let go; empty when that takes more than one. */
  readonly because: readonly WishConflict[];
  /** The best that keeps all wishes but one. */
  readonly nearest?: WishOffer & { readonly without: Wish };
  /** Whether any blend passes without wishes; if not, the maker's rules and bounds stand in the way. */
  readonly isOrderable: boolean;
}

export interface CannotWish {
  readonly kind: "cannot-judge";
  readonly findings: readonly Finding[];
}

export type Wished = WishesMet | WishesUnmet | CannotWish;

/**
 * Find blends that fit wishes.
 * @param choice the customer's own, inside the maker's bounds; feel and oil phase are wished relative to it. It need
 *   not pass the rules.
 * @param ground ingredients, and the kitchen's law
 * @param options tariff of the jar the price is wished for: without one no price is looked at, and a wish for a price
 *   cannot be judged
 */
export function wishFor(
  product: Product,
  choice: Choice,
  wishes: Wishes,
  ground: WishGround,
  options: { readonly tariff?: Tariff | undefined } = {},
): Wished {
  const { tariff } = options;
  const composed = composeBlend(product, choice, ground.ingredientOf);
  if ("findings" in composed) return { kind: "cannot-judge", findings: composed.findings };
  const base = product.bases.find(({ id }) => id === choice.base)!;
  const { slots } = sceneOf(product, base, choice, ground.ingredientOf);
  const optionsAt = slots.map((slot) => slot.options);
  const desk: Desk = { product, base, choice, blend: composed.blend, ground, tariff, optionsAt };
  const task = taskOf(desk, wishes);
  const findings = [
    ...standingFindings(product, choice, ground.ingredientOf, task.question),
    ...wishFindings(task),
  ];
  if (findings.length > 0) return { kind: "cannot-judge", findings };
  const { fits, isWhole } = searchAllowed(desk, task);
  if (fits.length > 0) {
    return { kind: "found", offers: fits.map((fit) => offerOf(task, fit)), isWhole };
  }
  return { kind: "none", explain: () => explained(desk, wishes), isWhole };
}

/** What steps come to, taken one after the other without a rest. */
export function atOnce<Result>(steps: Generator<undefined, Result>): Result {
  for (;;) {
    const step = steps.next();
    if (step.done) return step.value;
  }
}

function* explained(desk: Desk, wishes: Wishes): Generator<undefined, WishesExplained> {
  const { nearest, ...others } = yield* unmetSteps(desk, wishes);
  if (!nearest) return others;
  return {
    ...others,
    nearest: { ...offerOf(nearest.task, nearest.fit), without: nearest.without },
  };
}

/** Figures without which a wish cannot be told from its opposite. */
function wishFindings({ wishes, objective, desk, question }: Task): Finding[] {
  const { holdsToCelsius: holds, feel, oilPhase, without = [], priceMostMinor } = wishes;
  const { product, base, blend, tariff, ground } = desk;
  const { lnYield, lnViscosity } = objective.reference;
  const judged = () => judgeBlend(blend, { ...question, rules: {}, celsius: [] }).findings;
  const always = [...base.butters, ...product.additives].map(({ ingredient }) => ingredient);
  return [
    ...(holds !== undefined && !(holds >= COLDEST_C && holds <= WARMEST_C)
      ? [finding("judge.temperature.out-of-range", "temperature", { measured: holds, unit: "°C" })]
      : []),
    ...(feel && lnYield === undefined
      ? judged().filter(
          ({ code }) =>
            code.startsWith("judge.solid-fat.") || code.startsWith("judge.composition."),
        )
      : []),
    ...(oilPhase && lnViscosity === undefined ? [finding("judge.oil-phase.untold", "blend")] : []),
    ...without
      .filter((id) => ground.ingredientOf(id) === undefined)
      .map((id) => finding("compose.ingredient.unknown", id)),
    ...(priceMostMinor !== undefined && !tariff ? [finding("price.cost.unknown", "jar")] : []),
    ...(tariff
      ? always
          .filter((id) => tariff.rateNano[id] === undefined)
          .map((id) => finding("price.cost.unknown", id))
      : []),
  ];
}

/** Composed and judged the way the service lets an order through; nothing is offered that it would refuse. */
function offerOf(task: Task, fit: Fit): WishOffer {
  const { product, base, choice: own, ground } = task.desk;
  const choice = choiceOf(product, base, own, { ...fit, cost: 0 });
  const composed = composeBlend(product, choice, ground.ingredientOf);
  if ("findings" in composed) throw new Error("a wished blend does not keep the bounds");
  const { blend } = composed;
  if (judgeBlend(blend, { ...task.question, celsius: [] }).verdict !== "orderable") {
    throw new Error("a wished blend does not pass the rules");
  }
  const { moved, changes } = movedBetween(own, choice);
  return { choice, blend, score: fit.score, moved, changes, ...tradesOf(task, blend, changes) };
}
