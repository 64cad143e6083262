/**
 * What lies on the desk while a product is written: the shop, its shelf, costs and firmness law. Kept until one of them
 * changes, because every sheet of a product asks for all of it.
 */
import type { FirmnessLaw } from "#core/judge/firmness.ts";
import type { PackCost } from "#core/price/policy.ts";
import { type IngredientOf, pantryOf } from "../actions/pantry.ts";
import { particularsOf } from "../particulars.ts";
import type { Shop } from "../ports.ts";
import type { ShopParticulars } from "../shapes.ts";
import type { IngredientRow } from "../storage/ingredients.ts";
import type { ShopRow } from "../storage/shops.ts";

export interface Desk {
  readonly shop: ShopRow;
  readonly particulars: ShopParticulars;
  /** The maker's shelf by ingredient id, with what was put away. */
  readonly shelf: ReadonlyMap<string, IngredientRow>;
  readonly ingredientOf: IngredientOf;
  readonly costs: Readonly<Record<string, PackCost>>;
  readonly law: FirmnessLaw | undefined;
}

export type Desks = ReturnType<typeof desksOf>;

/** A function from a shop, as it stands now, to its desk. */
export function desksOf(shop: Pick<Shop, "ingredients" | "kitchenLaws">) {
  const kept = new Map<string, Desk>();
  return async (owner: ShopRow): Promise<Desk> => {
    const shopId = owner.id;
    const known = kept.get(shopId);
    if (known && isSame(known.shop, owner)) return known;
    const [pantry, { law }] = await Promise.all([
      pantryOf(shop, shopId),
      shop.kitchenLaws.inForce(shopId),
    ]);
    const desk: Desk = {
      shop: owner,
      particulars: particularsOf(owner),
      shelf: new Map(pantry.rows.map((row) => [row.id, row])),
      ingredientOf: pantry.ingredientOf,
      costs: pantry.costs,
      law,
    };
    kept.set(shopId, desk);
    return desk;
  };
}

function isSame(one: ShopRow, other: ShopRow): boolean {
  return (
    one.costsRevision === other.costsRevision &&
    one.lawRevision === other.lawRevision &&
    one.revision === other.revision
  );
}

/** The name people use for an ingredient; its id when nobody knows it. */
export function nameOf({ ingredientOf }: Desk, id: string): string {
  return ingredientOf(id)?.name ?? id;
}

/** Why an ingredient cannot be used in a product now; empty when it can. */
export function shelfFault(desk: Desk, id: string): string {
  const row = desk.shelf.get(id);
  const name = nameOf(desk, id);
  if (!row) return `${name} is not on your shelf. Add it there, or take it out here.`;
  if (row.archivedAt !== null) {
    return `${name} was put away from your shelf. Put it back there, or take it out here.`;
  }
  if (!desk.ingredientOf(id)) {
    return `Nothing is known of ${row.name || id} in the library, so it cannot be judged. Take it out here.`;
  }
  return "";
}
