/**
 * What every route of the shelf stands on: the shop, its money, its day, and the rows a path names.
 */
import type { Ingredient } from "#core/ingredient.ts";
import type { Currency } from "#core/price/money.ts";
import { ingredientOfRow } from "../../actions/pantry.ts";
import type { Shop } from "../../ports.ts";
import { Refusal } from "../../problem.ts";
import { NOT_WHOLE, wholeIn } from "../../typed/form-carried.ts";
import { particularsOf } from "../../particulars.ts";
import { dayAt } from "../../days.ts";
import type { IngredientRow } from "../../storage/ingredients.ts";
import type { LotRow } from "../../storage/lots.ts";
import type { ShopRow } from "../../storage/shops.ts";
import type { SignedContext } from "./visit.ts";

export interface ShelfGround {
  readonly shopId: string;
  readonly owner: ShopRow;
  readonly currency: Currency;
  readonly locale: string;
  /** ISO day where the bench stands. */
  readonly today: string;
  /** [s since 1970] */
  readonly at: number;
  readonly personId: string | null;
}

export function shelfGround(shop: Shop, c: SignedContext): ShelfGround {
  const { shopId, personId } = c.get("visit");
  const owner = c.get("owner");
  const { timeZone } = particularsOf(owner);
  const at = shop.clock.seconds();
  return {
    shopId,
    owner,
    currency: { code: owner.currency, exponent: owner.currencyExponent },
    locale: owner.locale,
    today: dayAt(timeZone, at),
    at,
    personId,
  };
}

/** A row and the fat it is. */
interface OwnIngredient {
  readonly row: IngredientRow;
  readonly ingredient: Ingredient;
}

/** @throws Refusal shelf.ingredient.unknown */
export async function ownIngredient(shop: Shop, shopId: string, id: string) {
  const row = await shop.ingredients.byId(shopId, id);
  const ingredient = row && ingredientOfRow(row);
  if (!ingredient) {
    throw new Refusal("shelf.ingredient.unknown", "There is no such ingredient on your shelf.");
  }
  return { row, ingredient } satisfies OwnIngredient;
}

/** @throws Refusal shelf.lot.unknown */
export async function ownLot(shop: Shop, shopId: string, id: string): Promise<LotRow> {
  const lot = await shop.lots.byId(shopId, id);
  if (!lot) throw new Refusal("shelf.lot.unknown", "There is no such lot on your shelf.");
  return lot;
}

/** @throws Refusal shelf.form.broken when a number that a form carries along is none */
export function wholeField(form: FormData, name: string): number {
  const whole = wholeIn(form, name);
  if (Number.isNaN(whole)) throw new Refusal("shelf.form.broken", NOT_WHOLE);
  return whole;
}
