/**
 * The storefront's second script: finds the nearest orderable blend of one that is refused. It is fetched when the
 * first blend is refused, so that a page where all goes well never pays for it.
 *
 * It stands by itself, core included, and shares nothing with the first script but the shape of its one function.
 */
import type { Choice } from "#core/compose/product.ts";
import { type Change, nearestOrderable } from "#core/order/nearest/nearest.ts";
import type { ProductOffer } from "#core/wire.ts";
import { ingredientOf } from "./scene.ts";

/** A blend that can be ordered, and what changes. */
export interface NearestFound {
  readonly choice: Choice;
  readonly changes: readonly Change[];
}

/** @returns nothing when no blend of this base can be ordered, or none can be judged */
export function findNearest(offer: ProductOffer, choice: Choice): NearestFound | undefined {
  const { product, law } = offer;
  const ground = { ingredientOf: (id: string) => ingredientOf(offer, id), law };
  const nearest = nearestOrderable(product, choice, ground);
  return nearest.kind === "found"
    ? { choice: nearest.choice, changes: nearest.changes }
    : undefined;
}
