/**
 * The maker's ingredients as the core knows them: a fat of the library under the maker's own id and name.
 *
 * What was put away still resolves, because an order or a draft may name it; what the maker never had falls back on the
 * library, because test jars and older orders name its ids.
 */
import type { Ingredient } from "#core/ingredient.ts";
import type { PackCost } from "#core/price/policy.ts";
import { ingredientById, recordOf, scentedOf } from "#data/library.ts";
import type { Shop } from "../ports.ts";
import type { IngredientRow } from "../storage/ingredients.ts";

export type IngredientOf = (id: string) => Ingredient | undefined;

export interface Pantry {
  readonly rows: readonly IngredientRow[];
  readonly ingredientOf: IngredientOf;
  /** What a pack costs, by ingredient id; nothing while there is no price. */
  readonly costs: Readonly<Record<string, PackCost>>;
}

/**
 * The maker's ingredients.
 * @param ids those that are asked for; without them the whole shelf is read, which may hold thousands
 */
export async function pantryOf(
  { ingredients }: Pick<Shop, "ingredients">,
  shopId: string,
  ids?: readonly string[],
): Promise<Pantry> {
  const rows = ids
    ? await ingredients.byIds(shopId, [...new Set(ids)])
    : await ingredients.ofShop(shopId);
  const own = new Map(rows.map((row) => [row.id, ingredientOfRow(row)]));
  return {
    rows,
    ingredientOf: (id) => own.get(id) ?? ingredientById(id),
    costs: Object.fromEntries(rows.flatMap((row) => costOf(row))),
  };
}

/** The core's ingredient of a row; nothing when the library no longer holds its fat. */
export function ingredientOfRow(row: IngredientRow): Ingredient | undefined {
  const { id, libraryId, name, refined, doseMostShare } = row;
  const record = recordOf(libraryId);
  const known = ingredientById(libraryId);
  if (!known || !record) return known;
  // Whether it smells follows from the coat the maker buys.
  const scented = refined === "not-told" ? known.scented : scentedOf(record, refined);
  const isAsKnown = id === libraryId && name === "" && scented === known.scented;
  if (isAsKnown && doseMostShare === null) return known;
  const { scented: _scented, ...others } = known;
  return {
    ...others,
    ...(scented === undefined ? {} : { scented }),
    ...(doseMostShare === null ? {} : { mostShare: doseMostShare }),
    id,
    name: name || known.name,
  };
}

function costOf({ id, packMinor, packMg }: IngredientRow): [string, PackCost][] {
  return packMinor === null || packMg === null ? [] : [[id, { packMinor, packMg }]];
}
