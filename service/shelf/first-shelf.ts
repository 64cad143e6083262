/**
 * A first shelf: the fats that many makers buy, several put on the shelf in one go with what a pack costs.
 */
import { ingredientById } from "#data/library.ts";
import type { Ingredient } from "#core/ingredient.ts";
import type { Currency } from "#core/price/money.ts";
import type { IngredientRow, NewIngredient } from "../storage/ingredients.ts";
import type { Fault } from "../typed/fault.ts";
import { blankFields } from "../typed/fields.ts";
import { INGREDIENT_FIELDS, readIngredient } from "./ingredient-fields.ts";
import { ownId } from "./own-id.ts";

/** Common at suppliers to small makers, common practice, no source. The first four are in our example product. */
export const FIRST_SHELF: readonly Ingredient[] = [
  ...["shea-butter", "cocoa-butter", "jojoba-oil", "sunflower-oil"],
  ...["mango-butter", "kokum-butter", "cupuacu-butter", "coconut-oil", "babassu-oil"],
  ...["high-oleic-sunflower-oil", "sweet-almond-oil", "apricot-kernel-oil", "olive-oil"],
  ...["avocado-oil", "argan-oil", "grapeseed-oil", "rice-bran-oil", "castor-oil"],
  ...["fractionated-coconut-oil", "squalane"],
].map((id) => {
  const known = ingredientById(id);
  if (!known) throw new Error(`the first shelf names ${id}, which the library does not hold`);
  return known;
});

/** What was typed beside a fat. */
export interface FirstPack {
  readonly pack: string;
  readonly price: string;
}

const BLANK = blankFields(INGREDIENT_FIELDS);

/**
 * Read the rows that were filled in.
 * @param packs by library id
 * @param standing all the shop's rows, put away or not
 * @returns rows to be created, or faults whose field is "pack-" or "price-" and the library id
 */
export function readFirstShelf(
  packs: ReadonlyMap<string, FirstPack>,
  standing: readonly IngredientRow[],
  shopId: string,
  currency: Currency,
): { readonly rows: readonly NewIngredient[] } | { readonly faults: readonly Fault[] } {
  const faults: Fault[] = [];
  const taken = new Set(standing.map(({ id }) => id));
  const rows: NewIngredient[] = [];
  for (const { id: libraryId, name } of FIRST_SHELF) {
    const { pack = "", price = "" } = packs.get(libraryId) ?? {};
    if (pack.trim() === "" && price.trim() === "") continue;
    const twin = standing.find((row) => row.libraryId === libraryId);
    if (twin) {
      const where =
        twin.archivedAt === null ? "stands on your shelf" : "is among what you put away";
      faults.push({ field: "", sentence: `${name} ${where} by now. It was not added again.` });
      continue;
    }
    const reading = readIngredient({ ...BLANK, pack, price }, ingredientById(libraryId)!, currency);
    if ("faults" in reading) {
      faults.push(...reading.faults.map((each) => inRow(each, libraryId, name, price)));
      continue;
    }
    const id = ownId(libraryId, "", taken);
    taken.add(id);
    rows.push({ shopId, id, libraryId, ...reading.read });
  }
  if (faults.length === 0 && rows.length === 0) {
    const [first] = FIRST_SHELF.filter(({ id }) => !standing.some((row) => row.libraryId === id));
    const sentence =
      "Nothing was filled in. Write what a pack holds and costs beside what you buy.";
    faults.push({ field: first ? `pack-${first.id}` : "", sentence });
  }
  return faults.length > 0 ? { faults } : { rows };
}

function inRow({ field, sentence }: Fault, libraryId: string, name: string, price: string): Fault {
  const free =
    "Zero is no price here. What costs you nothing is added one by one, from the library.";
  const said = field === "price" && /^\D*0+([.,]0+)?\D*$/.test(price) ? free : sentence;
  return { field: `${field}-${libraryId}`, sentence: `${name}: ${said}` };
}
