/**
 * A table of the maker's, from its text to what it would do, and to what it has done.
 */
import { pantryOf } from "../actions/pantry.ts";
import type { Shop } from "../ports.ts";
import type { CsvUpload } from "../storage/csv-uploads.ts";
import type { DayOrder } from "./days.ts";
import type { Plan } from "./file-plan.ts";
import { INGREDIENT_COLUMNS, type PlannedIngredient, planIngredients } from "./ingredients-file.ts";
import { LOT_COLUMNS, type PlannedLot, planLots } from "./lots-file.ts";
import { readTable } from "./table.ts";
import type { Currency } from "#core/price/money.ts";

export interface FileGround {
  readonly shopId: string;
  readonly currency: Currency;
  readonly today: string;
  readonly at: number;
  readonly personId: string | null;
}

export type LookedAt =
  | { readonly fault: string }
  | {
      readonly plan: Plan<PlannedIngredient> | Plan<PlannedLot>;
      /** Headings that are none of ours. */
      readonly strange: readonly string[];
      /** Write the good rows; chunk by chunk, each whole or not at all. */
      readonly write: () => Promise<void>;
    };

export const COLUMNS = { ingredients: INGREDIENT_COLUMNS, lots: LOT_COLUMNS } as const;

/** Read an uploaded table against what stands on the shelf now. */
export async function lookAt(
  shop: Pick<Shop, "ingredients" | "lots" | "shelfFiles" | "numbers">,
  { kind, text }: Pick<CsvUpload, "kind" | "text">,
  dayOrder: DayOrder,
  ground: FileGround,
): Promise<LookedAt> {
  const { shopId, currency, today, at, personId } = ground;
  const table = readTable(text, COLUMNS[kind]);
  if ("fault" in table) return table;
  const { rows, strange } = table;
  const given = { rows, present: table.present };
  const valuesOf = <T>(changes: readonly { readonly value: T }[]) =>
    changes.map(({ value }) => value);
  if (kind === "ingredients") {
    const standing = await shop.ingredients.ofShop(shopId);
    const plan = planIngredients(given, standing, shopId, currency);
    const { fresh, changed } = plan;
    const write = () =>
      shop.shelfFiles.writeIngredients(shopId, valuesOf(fresh), valuesOf(changed));
    return { plan, strange, write };
  }
  const [pantry, lots] = await Promise.all([pantryOf(shop, shopId), shop.lots.ofShop(shopId)]);
  const { rows: ingredients, ingredientOf } = pantry;
  const newId = () => shop.numbers.id();
  const known = { ingredients, ingredientOf, lots, newId };
  const plan = planLots(given, { shopId, currency, today, dayOrder, ...known });
  const { fresh, changed } = plan;
  const moved = { at, personId, note: "from a table" };
  const write = () => shop.shelfFiles.writeLots(shopId, valuesOf(fresh), valuesOf(changed), moved);
  return { plan, strange, write };
}
