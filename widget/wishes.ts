/**
 * The search behind the wishes, a script of its own because it brings the core with it: fetched when the first wish is
 * made. It finds and says nothing; the words and the last judgement are the page's.
 */
import type { Choice } from "#core/compose/product.ts";
import type { Wishes } from "#core/order/wishes/wish.ts";
import { type Wished, wishFor } from "#core/order/wishes/wishes.ts";
import type { ProductOffer } from "#core/wire.ts";
import { ingredientOf } from "./scene.ts";

/**
 * @param jar whose price is looked at
 * @returns what fits; where nothing does, the steps that find out why
 */
export function findWished(
  offer: ProductOffer,
  choice: Choice,
  jar: string,
  wishes: Wishes,
): Wished {
  const { product, law, tariffs } = offer;
  const ground = { ingredientOf: (id: string) => ingredientOf(offer, id), law };
  return wishFor(product, choice, wishes, ground, { tariff: tariffs[jar] });
}
