/**
 * Wishes on a base -> what is searched: rules with the hard wishes in them, what may stand where, and the objective.
 */
import { type Blend, WHOLE } from "../../blend.ts";
import type { Base, Choice, Product } from "../../compose/product.ts";
import type { Ingredient } from "../../ingredient.ts";
import { compositionFindings } from "../../judge/composition.ts";
import type { FirmnessLaw } from "../../judge/firmness.ts";
import { meltOf } from "../../judge/melt.ts";
import type { Rules } from "../../judge/verdict.ts";
import { NANO, type Tariff } from "../../price/tariff.ts";
import { type Scene, type Slot, greatestOf, sceneOf } from "../nearest/scene.ts";
import { type JudgingGround, type RuleCheck, groundOf, ruleChecker } from "../rule-check.ts";
import {
  type Objective,
  type Reference,
  familiesBrought,
  lnFigures,
  nanoOf,
  objectiveOf,
} from "./objective.ts";
import type { Wishes } from "./wish.ts";

export interface WishGround {
  readonly ingredientOf: (id: string) => Ingredient | undefined;
  /** Law of the kitchen; the published one when not said. */
  readonly law?: FirmnessLaw | undefined;
}

/** What stays the same whichever wishes are looked at. */
export interface Desk {
  readonly product: Product;
  readonly base: Base;
  readonly choice: Choice;
  readonly blend: Blend;
  readonly ground: WishGround;
  readonly tariff: Tariff | undefined;
  /** Every known ingredient that the product allows in each slot, whatever is wished. */
  readonly optionsAt: readonly (readonly Ingredient[])[];
}

export interface Task {
  readonly desk: Desk;
  readonly wishes: Wishes;
  readonly question: JudgingGround;
  readonly objective: Objective;
  readonly scene: Scene;
  /** Slots that are also tried without anything in them. */
  readonly mayBeEmpty: readonly boolean[];
  /** Whether a hard wish rules an ingredient out. */
  readonly isUnwished: (ingredient: Ingredient) => boolean;
  /** Most that the jar may come to before rounding; Infinity without a limit [billionths of a minor unit] */
  readonly nanoMost: number;
  readonly check: (blend: Blend) => RuleCheck;
}

/** What is wished of a base, made ready for the search: goals to weigh and conditions to keep. */
export function taskOf(desk: Desk, wishes: Wishes): Task {
  const { product, base, choice, ground, tariff } = desk;
  const rules = wishedRules(product.rules, wishes);
  const question = groundOf({ ...product, rules }, ground.law);
  const isUnwished = unwished(wishes);
  const reference = referenceOf(desk, question);
  const isOut = (each: Ingredient) => isUnwished(each) || isUnpriced(tariff, each);
  const scene = sceneOf({ ...product, rules }, base, choice, ground.ingredientOf);
  const isFree = (each: Ingredient) =>
    greatestOf(each, rules) > 0 &&
    familiesBrought(reference, [{ ingredient: each, share: WHOLE }]).length === 0;
  const slots = scene.slots.map((slot): Slot => {
    const options = slot.options.filter((each) => !isOut(each));
    if (options.length > 0) return { ...slot, options };
    // Nothing may stand here: it stays empty where the bounds let it, and where they do not no blend is found.
    return slot.least > 0 ? { ...slot, options } : { ...slot, greatest: 0 };
  });
  return {
    ...{ desk, wishes, question, scene: { ...scene, slots }, isUnwished },
    objective: objectiveOf(reference, wishes, question, tariff),
    mayBeEmpty: slots.map(
      ({ least, greatest, options }) => least === 0 && greatest > 0 && !options.some(isFree),
    ),
    nanoMost: nanoMostOf(tariff, wishes.priceMostMinor),
    check: ruleChecker(question),
  };
}

/** The rules with the hard wishes that are rules; a wish never loosens one. */
function wishedRules(rules: Rules, { holdsToCelsius, poreRatingMost }: Wishes): Rules {
  const { softensAboveLeastCelsius: holds = -Infinity, poreRatingMost: most = Infinity } = rules;
  return {
    ...rules,
    ...(holdsToCelsius === undefined
      ? {}
      : { softensAboveLeastCelsius: Math.max(holds, holdsToCelsius) }),
    ...(poreRatingMost === undefined ? {} : { poreRatingMost: Math.min(most, poreRatingMost) }),
  };
}

/** Of what a customer chooses, only what is known to have no scent counts as unscented. */
function unwished({ without, withoutFamilies, unscented }: Wishes): (each: Ingredient) => boolean {
  return ({ id, allergenFamilies, scented }) =>
    (without?.includes(id) ?? false) ||
    allergenFamilies.some((family) => withoutFamilies?.includes(family)) ||
    (unscented === true && scented !== false);
}

/** Whether wishes forbid what the maker puts in every jar; a scent nobody recorded is told of instead. */
export function additiveForbids(wishes: Wishes, ingredient: Ingredient): boolean {
  const { unscented, ...others } = wishes;
  return unwished(others)(ingredient) || (unscented === true && ingredient.scented === true);
}

function isUnpriced(tariff: Tariff | undefined, { id }: Ingredient): boolean {
  return tariff !== undefined && tariff.rateNano[id] === undefined;
}

/** What the customer's own blend is like; what cannot be judged is not compared. */
function referenceOf({ blend, tariff }: Desk, question: JudgingGround): Reference {
  const { parts } = blend;
  const isKnown = parts.every(({ ingredient }) => compositionFindings(ingredient).length === 0);
  const nano = tariff ? nanoOf(tariff, parts) : NaN;
  return {
    ...(isKnown
      ? lnFigures(blend, meltOf(blend), question)
      : { lnYield: undefined, lnViscosity: undefined }),
    nano: nano > 0 ? nano : undefined,
    families: new Set(parts.flatMap(({ ingredient }) => ingredient.allergenFamilies)),
  };
}

/** The limit on the price, turned round: what still rounds up to it. */
function nanoMostOf(tariff: Tariff | undefined, priceMostMinor = Infinity): number {
  if (!tariff) return Infinity;
  const { roundUpToMinor, leastMinor = 0, mostMinor = Infinity } = tariff;
  const most = Math.min(priceMostMinor, mostMinor);
  if (most < leastMinor) return -Infinity;
  return most === Infinity ? Infinity : Math.floor(most / roundUpToMinor) * roundUpToMinor * NANO;
}
