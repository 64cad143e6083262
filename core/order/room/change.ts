/**
 * Changes to a product that would let a base be ordered, and what the product is after one.
 */
import { WHOLE } from "../../blend.ts";
import type { Bound, Choice, Product } from "../../compose/product.ts";
import { FIRMNESS_CLASSES, type FirmnessClass } from "../../judge/firmness.ts";
import type { Rules } from "../../judge/verdict.ts";

export type Change =
  | {
      readonly kind: "bound";
      /** Ingredient id of a butter, or id of a place. */
      readonly subject: string;
      readonly end: "least" | "greatest";
      /** [hundredths of a percent] */
      readonly from: number;
      readonly to: number;
    }
  /** Every bound of the base let out by as much on both sides [hundredths of a percent]. */
  | { readonly kind: "all-bounds"; readonly by: number }
  | { readonly kind: "softens-above"; readonly from: number; readonly to: number }
  | {
      readonly kind: "firmness";
      readonly from: readonly FirmnessClass[];
      readonly to: readonly FirmnessClass[];
    }
  | { readonly kind: "pore-ceiling"; readonly from: number; readonly to: number }
  /** Unrated ingredients are told of and no longer keep a jar from being judged. */
  | { readonly kind: "unrated-told" }
  /** The central value must pass and no longer the whole band. */
  | { readonly kind: "central" };

/** A change that was tried: with it, this choice can be ordered. */
export interface Mending {
  readonly change: Change;
  readonly example: Choice;
}

/** Rules after a change. */
export function changeRules(rules: Rules, change: Change): Rules {
  switch (change.kind) {
    case "softens-above":
      return { ...rules, softensAboveLeastCelsius: change.to };
    case "firmness":
      return { ...rules, firmness: change.to };
    case "pore-ceiling":
      return { ...rules, poreRatingMost: change.to };
    case "unrated-told":
      return { ...rules, unrated: "tell" };
    case "central":
      return { ...rules, strictness: "central" };
    default:
      return rules;
  }
}

/** The product after a change to one of its bases or to its rules. */
export function changeProduct(product: Product, base: string, change: Change): Product {
  const bound = <Part extends Bound>(part: Part, subject: string): Part => {
    if (change.kind === "all-bounds") return { ...part, ...letOut(part, change.by) };
    if (change.kind !== "bound" || change.subject !== subject) return part;
    return { ...part, [change.end]: change.to };
  };
  return {
    ...product,
    rules: changeRules(product.rules, change),
    bases: product.bases.map((each) =>
      each.id === base
        ? {
            ...each,
            butters: each.butters.map((butter) => bound(butter, butter.ingredient)),
            oils: each.oils.map((oil) => bound(oil, oil.place)),
          }
        : each,
    ),
  };
}

/** A bound let out on both sides [hundredths of a percent] */
function letOut({ least, greatest }: Bound, by: number): Bound {
  return { least: Math.max(0, least - by), greatest: Math.min(WHOLE, greatest + by) };
}

/** The unbroken run of classes that holds a window and what a band reaches. */
export function windowOver(
  window: readonly FirmnessClass[],
  lowest: FirmnessClass,
  highest: FirmnessClass,
): FirmnessClass[] {
  const ranks = [...window, lowest, highest].map((each) => FIRMNESS_CLASSES.indexOf(each));
  return FIRMNESS_CLASSES.slice(Math.min(...ranks), Math.max(...ranks) + 1);
}
