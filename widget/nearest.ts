/**
 * The storefront's second script: finds the nearest orderable blend of one that is refused. It is fetched when the
 * first blend is refused, so that a page where all goes well never pays for it.
 *
 * It stands by itself, core included, and shares nothing with the first script but the shape of its one function.
 */
import type { Choice } from "#core/compose/product.ts";
import { nearestOrderable } from "#core/order/nearest/nearest.ts";
import { sayChanges } from "#core/order/nearest-words.ts";
import type { ProductOffer } from "#core/wire.ts";
import { formatsFor } from "./formats.ts";
import { ingredientOf, nameOf } from "./scene.ts";

/** A blend that can be ordered, and what changes: "2% less cocoa butter, 2% more sunflower oil". */
export interface NearestFound {
  readonly choice: Choice;
  readonly changes: string;
}

/** @returns nothing when no blend of this base can be ordered, or none can be judged */
export function findNearest(offer: ProductOffer, choice: Choice): NearestFound | undefined {
  const { product, law, locale, currency } = offer;
  const ground = { ingredientOf: (id: string) => ingredientOf(offer, id), law };
  const nearest = nearestOrderable(product, choice, ground);
  if (nearest.kind !== "found") return undefined;
  const { percent } = formatsFor(locale, currency);
  const changes = sayChanges(nearest.changes, (id) => nameOf(offer, id), percent);
  return { choice: nearest.choice, changes };
}
