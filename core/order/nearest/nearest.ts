/**
 * The nearest orderable blend: what passes all rules with the least share moved, additives and locked shares kept.
 *
 * Moved is half of all that goes and comes, told by ingredient: a swapped oil goes with its whole share. The choice may
 * lie outside the bounds. What is found was composed and judged like any other choice.
 */
import type { Blend } from "../../blend.ts";
import { composeBlend } from "../../compose/compose.ts";
import type { Choice, Product } from "../../compose/product.ts";
import type { Finding } from "../../finding.ts";
import type { Ingredient } from "../../ingredient.ts";
import type { FirmnessLaw } from "../../judge/firmness.ts";
import { judgeBlend } from "../../judge/verdict.ts";
import { type JudgingGround, type RuleCheck, groundOf, ruleChecker } from "../rule-check.ts";
import { type Conflict, conflictsOf } from "./conflicts.ts";
import { choiceOf } from "./placing.ts";
import { ingredientsIn, sceneOf } from "./scene.ts";
import { search } from "./search.ts";
import { judgeOn } from "./settle.ts";
import { standingFindings } from "./standing.ts";

/** One ingredient whose share changes. */
export interface Change {
  readonly ingredient: string;
  /** Shares before and after, 0 where it is not in the blend [hundredths of a percent] */
  readonly from: number;
  readonly to: number;
}

export interface NearestChoice {
  readonly kind: "found";
  readonly choice: Choice;
  readonly blend: Blend;
  /** Half of all that goes and comes [hundredths of a percent] */
  readonly moved: number;
  /** What comes most, first; what goes most, last. */
  readonly changes: readonly Change[];
  readonly check: RuleCheck;
}

/** Nothing in the bounds passes. */
export interface NoneOrderable {
  readonly kind: "none";
  /**
   * Rules and bounds that would let a blend through if they alone gave way, worked out when asked for; none when two
   * or more would have to.
   */
  readonly conflicts: () => readonly Conflict[];
  /** Whether every combination of oils was in the running; very many are only tried up to two swaps. */
  readonly isWhole: boolean;
}

export interface CannotSearch {
  readonly kind: "cannot-judge";
  readonly findings: readonly Finding[];
}

export type Nearest = NearestChoice | NoneOrderable | CannotSearch;

export interface NearestGround {
  readonly ingredientOf: (id: string) => Ingredient | undefined;
  /** Law of the kitchen; the published one when not said. */
  readonly law?: FirmnessLaw | undefined;
}

/**
 * Find the nearest orderable blend of a choice.
 * @param choice any shares, whole hundredths of a percent from 0 to 10 000; they need not keep bounds or sum
 * @returns the choice that passes, or what conflicts, or what is missing to judge at all
 */
export function nearestOrderable(
  product: Product,
  choice: Choice,
  { ingredientOf, law }: NearestGround,
): Nearest {
  const question = groundOf(product, law);
  const standing = standingFindings(product, choice, ingredientOf, question);
  if (standing.length > 0) return { kind: "cannot-judge", findings: standing };
  const base = product.bases.find(({ id }) => id === choice.base)!;
  const scene = sceneOf(product, base, choice, ingredientOf);
  const { found, missed, isWhole } = search(scene, judgeOn(question, ingredientsIn(scene)));
  if (!found) {
    return { kind: "none", conflicts: () => conflictsOf(scene, question, missed), isWhole };
  }
  const nearest = choiceOf(product, base, choice, found);
  return {
    kind: "found",
    ...verified(product, nearest, ingredientOf, question),
    ...movedBetween(choice, nearest),
  };
}

/** The same way that the service lets an order through; nothing is offered that it would refuse. */
function verified(
  product: Product,
  choice: Choice,
  ingredientOf: NearestGround["ingredientOf"],
  question: JudgingGround,
) {
  const composed = composeBlend(product, choice, ingredientOf);
  if ("findings" in composed) throw new Error("the nearest blend does not keep the bounds");
  const { blend } = composed;
  if (judgeBlend(blend, { ...question, celsius: [] }).verdict !== "orderable") {
    throw new Error("the nearest blend does not pass the rules");
  }
  return { choice, blend, check: ruleChecker(question)(blend) };
}

/** What changes from one choice to another. */
export function movedBetween(
  before: Choice,
  after: Choice,
): Pick<NearestChoice, "moved" | "changes"> {
  const from = sharesOf(before);
  const to = sharesOf(after);
  const changes = [...new Set([...to.keys(), ...from.keys()])]
    .map((ingredient) => ({
      ingredient,
      from: from.get(ingredient) ?? 0,
      to: to.get(ingredient) ?? 0,
    }))
    .filter((change) => change.from !== change.to)
    .sort((one, other) => other.to - other.from - (one.to - one.from));
  const sum = changes.reduce((total, change) => total + Math.abs(change.to - change.from), 0);
  return { moved: sum / 2, changes };
}

function sharesOf({ butters, oils }: Pick<Choice, "butters" | "oils">): Map<string, number> {
  const shares = new Map<string, number>();
  for (const { ingredient, share } of [...butters, ...oils]) {
    shares.set(ingredient, (shares.get(ingredient) ?? 0) + share);
  }
  return shares;
}
