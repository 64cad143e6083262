/**
 * The maker's ingredients as a table, out and in.
 */
import type { Currency } from "#core/price/money.ts";
import { ingredientById } from "#data/library.ts";
import type { IngredientRow, NewIngredient } from "../storage/ingredients.ts";
import { quoted } from "../typed/fault.ts";
import { type Plan, type RowReading, badRow, differencesOf, planRows } from "./file-plan.ts";
import {
  type IngredientFields,
  type IngredientWords,
  ingredientFieldsOf,
  readIngredient,
} from "./ingredient-fields.ts";
import { namedInLibrary } from "./library-search.ts";
import { isOwnId, ownId } from "./own-id.ts";
import { type Column, type Table, type TableRow, cellsOver, yesOf } from "./table.ts";

export const INGREDIENT_COLUMNS: readonly Column[] = [
  { key: "id", heading: "Id" },
  { key: "ingredient", heading: "Ingredient", needed: true },
  { key: "name", heading: "Own name" },
  { key: "supplier", heading: "Supplier" },
  { key: "pack", heading: "Pack" },
  { key: "price", heading: "Pack price" },
  { key: "free", heading: "Costs nothing" },
  { key: "refined", heading: "Refined" },
  { key: "scent", heading: "Scent" },
  { key: "doseMost", heading: "Greatest share %" },
  { key: "lowBelow", heading: "Low below" },
  { key: "note", heading: "Note" },
];

/** Rows for `writeTable`. */
export function ingredientCells(rows: readonly IngredientRow[], currency: Currency) {
  return rows.map((row) => ({
    id: row.id,
    ingredient: row.libraryId,
    ...ingredientFieldsOf(row, currency),
  }));
}

/** The row as it is to be stored; its revision is the one that was compared with. */
export type PlannedIngredient = NewIngredient & { readonly revision: number };

/**
 * What a table of ingredients would do.
 * @param shelf every ingredient of the shop, put away or not
 */
export function planIngredients(
  { rows, present }: Table,
  shelf: readonly IngredientRow[],
  shopId: string,
  currency: Currency,
): Plan<PlannedIngredient> {
  const byId = new Map(shelf.map((row) => [row.id, row]));
  const byName = new Map(shelf.map((row) => [nameKey(row.libraryId, row.name), row]));
  const taken = new Set(byId.keys());
  const seen = new Map<string, number>();

  function read({ number, cells }: TableRow): RowReading<PlannedIngredient> {
    const ingredient = namedInLibrary(cells["ingredient"]!);
    if (!ingredient) return badRow("ingredient", unknownIngredient(cells["ingredient"]!));
    const typedId = cells["id"]!.trim();
    if (typedId !== "" && !isOwnId(typedId)) {
      const sentence = `${quoted(typedId)} cannot be an id: leave it empty, and one is made.`;
      return badRow("id", sentence);
    }
    const name = cells["name"]!.trim();
    const standing = typedId ? byId.get(typedId) : byName.get(nameKey(ingredient.id, name));
    const before = standing ? ingredientFieldsOf(standing, currency) : {};
    const fields = cellsOver(before, cells, present) as unknown as IngredientFields;
    const reading = readIngredient({ ...fields, free: yesOf(fields.free) }, ingredient, currency);
    if ("faults" in reading) return reading;
    const words = reading.read;
    const id = standing?.id ?? (typedId || ownId(ingredient.id, words.name, taken));
    const first = seen.get(id);
    const key = nameKey(ingredient.id, words.name);
    if (first !== undefined) return badRow("id", `Row ${first} is this ingredient already.`);
    seen.set(id, number);
    taken.add(id);
    const title = words.name || ingredient.name;
    const value = { shopId, id, libraryId: ingredient.id, ...words, revision: 1 };
    if (!standing) {
      byName.set(key, {
        ...value,
        archivedAt: null,
        ranOutAt: null,
        doseMostShare: null,
        lowBelowMg: null,
      });
      return { fresh: { title, value } };
    }
    const clash = againstStanding(standing, ingredient.id);
    if (clash) return badRow("ingredient", clash);
    return compared(standing, words, title, currency, { ...value, revision: standing.revision });
  }

  return planRows(rows, INGREDIENT_COLUMNS, read);
}

function compared(
  standing: IngredientRow,
  words: IngredientWords,
  title: string,
  currency: Currency,
  value: PlannedIngredient,
): RowReading<PlannedIngredient> {
  const before = ingredientFieldsOf(standing, currency);
  const after = ingredientFieldsOf(words, currency);
  const differences = differencesOf(before, after, INGREDIENT_COLUMNS);
  return differences.length === 0
    ? { unchanged: true }
    : { changed: { title, value, differences } };
}

function againstStanding(standing: IngredientRow, libraryId: string): string | undefined {
  if (standing.archivedAt !== null) {
    return `${standing.id} is put away. Put it back on the shelf first.`;
  }
  if (standing.libraryId === libraryId) return undefined;
  const is = ingredientById(standing.libraryId)?.name ?? standing.libraryId;
  return `${standing.id} is ${is} on your shelf, and that cannot change: orders may name it.`;
}

function unknownIngredient(typed: string): string {
  if (typed.trim() === "") return "The ingredient is missing: write its name, INCI name or id.";
  return `The library holds no ${quoted(typed)}: write the name, INCI name or id it is listed by.`;
}

const nameKey = (libraryId: string, name: string) => `${libraryId}\n${name.toLowerCase()}`;
