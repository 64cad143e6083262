/**
 * The maker's lots as a table, out and in. What is on hand may be counted in the table: a difference becomes a
 * movement.
 */
import type { Ingredient } from "#core/ingredient.ts";
import type { Currency } from "#core/price/money.ts";
import { type IngredientOf } from "../actions/pantry.ts";
import type { IngredientRow } from "../storage/ingredients.ts";
import type { LotRow } from "../storage/lots.ts";
import { readAmount, writeMass } from "./amount.ts";
import { NO_CERTIFICATE } from "./certificate.ts";
import type { DayOrder } from "./days.ts";
import { quoted } from "../typed/fault.ts";
import { type Plan, type RowReading, badRow, differencesOf, planRows } from "./file-plan.ts";
import { type LotFields, type LotWords, lotFieldsOf, readLot } from "./lot-fields.ts";
import { type Column, type Table, type TableRow, cellsOver, yesOf } from "./table.ts";

export const LOT_COLUMNS: readonly Column[] = [
  { key: "ingredient", heading: "Ingredient", needed: true },
  { key: "code", heading: "Lot code", needed: true },
  { key: "supplier", heading: "Supplier" },
  { key: "quantity", heading: "Received" },
  { key: "onHand", heading: "On hand" },
  { key: "receivedOn", heading: "Received on" },
  { key: "bestBefore", heading: "Best before" },
  { key: "cost", heading: "Lot cost" },
  { key: "free", heading: "Costs nothing" },
  { key: "note", heading: "Note" },
];

export function lotCells(lots: readonly LotRow[], currency: Currency) {
  return lots.map((lot) => ({
    ingredient: lot.ingredientId,
    ...lotFieldsOf(lot, currency, NO_CERTIFICATE),
    onHand: lot.onHandMg === 0 ? "0 g" : writeMass(lot.onHandMg),
  }));
}

/** The lot as it is to stand. */
export type PlannedLot = LotRow;

export interface LotsGround {
  readonly shopId: string;
  readonly currency: Currency;
  readonly today: string;
  readonly dayOrder: DayOrder;
  readonly ingredients: readonly IngredientRow[];
  readonly ingredientOf: IngredientOf;
  /** Every lot of the shop. */
  readonly lots: readonly LotRow[];
  /** A fresh id for a new lot. */
  readonly newId: () => string;
}

/** What a table of lots would do. */
export function planLots({ rows, present }: Table, ground: LotsGround): Plan<PlannedLot> {
  const { shopId, currency, today, dayOrder } = ground;
  const find = finderOf(ground);
  const byCode = new Map(ground.lots.map((lot) => [codeKey(lot.ingredientId, lot.code), lot]));
  const seen = new Map<string, number>();

  function read({ number, cells }: TableRow): RowReading<PlannedLot> {
    const found = find(cells["ingredient"]!);
    if ("fault" in found) return badRow("ingredient", found.fault);
    const { ingredient } = found;
    const key = codeKey(ingredient.id, cells["code"]!.trim());
    const standing = byCode.get(key);
    const reading = readLot(fieldsOf(cells, standing), {
      ...{ ingredient, currency, today },
      // What stands already is year first, and that is always understood.
      dayOrder,
    });
    if ("faults" in reading) return reading;
    const first = seen.get(key);
    if (first !== undefined) return badRow("code", `Row ${first} is this lot already.`);
    seen.set(key, number);
    const onHand = readOnHand(cells["onHand"]!, ingredient);
    if (onHand && "fault" in onHand) return badRow("onHand", onHand.fault);
    const words = reading.read;
    const clash = standing && againstStanding(standing, words);
    if (clash) return clash;
    const title = `${ingredient.name}, lot ${words.code}`;
    const onHandMg = onHand?.mg ?? standing?.onHandMg ?? words.receivedMg;
    if (standing) {
      const { certificate } = standing;
      return compared(standing, { ...standing, ...words, certificate, onHandMg }, title, currency);
    }
    if (onHandMg > words.receivedMg) {
      return badRow("onHand", "More is on hand than was received. Check both amounts.");
    }
    const bare = { blockedBecause: null, archivedAt: null, revision: 1 };
    const whose = { id: ground.newId(), shopId, ingredientId: ingredient.id };
    return { fresh: { title, value: { ...whose, ...words, onHandMg, ...bare } } };
  }

  return planRows(rows, LOT_COLUMNS, read);

  /** Over those of a lot that stands already; what arrived, and when, stays also where a cell is empty. */
  function fieldsOf(cells: TableRow["cells"], standing: LotRow | undefined): LotFields {
    const before = standing ? lotCells([standing], currency)[0]! : undefined;
    const over = cellsOver(before ?? {}, cells, present);
    const keep = (key: "quantity" | "receivedOn") => over[key]!.trim() || (before?.[key] ?? "");
    const free = yesOf(over["free"]!);
    const kept = { quantity: keep("quantity"), receivedOn: keep("receivedOn"), free };
    return { ...over, ...NO_CERTIFICATE, ...kept } as unknown as LotFields;
  }
}

function compared(
  standing: LotRow,
  value: LotRow,
  title: string,
  currency: Currency,
): RowReading<PlannedLot> {
  const [before] = lotCells([standing], currency);
  const [after] = lotCells([value], currency);
  const differences = differencesOf(before!, after!, LOT_COLUMNS);
  return differences.length === 0
    ? { unchanged: true }
    : { changed: { title, value, differences } };
}

function againstStanding(standing: LotRow, words: LotWords) {
  if (standing.archivedAt !== null) {
    return badRow("code", `Lot ${standing.code} is put away. Put it back on the shelf first.`);
  }
  if (standing.receivedMg === words.receivedMg) return undefined;
  const was = writeMass(standing.receivedMg);
  const sentence = `This lot arrived with ${was}, and that stays. Count it in the column “On hand”.`;
  return badRow("quantity", sentence);
}

function readOnHand(typed: string, ingredient: Ingredient) {
  if (typed.trim() === "") return undefined;
  return readAmount(typed, ingredient, 0);
}

/** Finds the maker's ingredient by its id, or by its name when only one bears it. */
function finderOf({ ingredients, ingredientOf }: LotsGround) {
  const onShelf = ingredients.filter(({ archivedAt }) => archivedAt === null);
  const known = new Map<string, Ingredient | null>();
  for (const { id } of onShelf) {
    const ingredient = ingredientOf(id);
    if (!ingredient) continue;
    const name = ingredient.name.toLowerCase();
    known.set(name, known.has(name) ? null : ingredient);
  }
  for (const { id } of onShelf) known.set(id, ingredientOf(id) ?? null);
  return (typed: string): { ingredient: Ingredient } | { fault: string } => {
    const text = typed.trim();
    if (text === "")
      return { fault: "The ingredient is missing: write its id or your name for it." };
    const ingredient = known.get(text) ?? known.get(text.toLowerCase());
    if (ingredient) return { ingredient };
    if (ingredient === null) {
      return { fault: `You have more than one ${quoted(text)}. Write the id instead.` };
    }
    return { fault: `${quoted(text)} is not on your shelf. Add the ingredient first.` };
  };
}

const codeKey = (ingredientId: string, code: string) => `${ingredientId}\n${code}`;
