/**
 * An ingredient as it is typed on a form or stands in a row of a table, and what it is read as.
 */
import type { Ingredient } from "#core/ingredient.ts";
import type { Currency } from "#core/price/money.ts";
import { WHOLE } from "#core/blend.ts";
import type { IngredientRow } from "../storage/ingredients.ts";
import { readAmount, readFigure, writeMass } from "./amount.ts";
import { type Fault, quoted } from "../typed/fault.ts";
import { NOTE_LONGEST, lengthFault } from "../typed/length.ts";
import { cleanText } from "../typed/text.ts";
import { readPrice, writePrice } from "./price-text.ts";

export const INGREDIENT_FIELDS = [
  ...(["name", "supplier", "pack", "price", "free", "refined"] as const),
  ...(["scent", "doseMost", "lowBelow", "note"] as const),
];
export type IngredientFields = Readonly<Record<(typeof INGREDIENT_FIELDS)[number], string>>;

/** What of a row the fields say. */
export type IngredientWords = Pick<
  IngredientRow,
  | "name"
  | "supplier"
  | "packText"
  | "packMinor"
  | "packMg"
  | "refined"
  | "scent"
  | "doseMostShare"
  | "lowBelowMg"
  | "note"
>;

const REFINED = ["not-told", "refined", "unrefined"] as const;

export const NAME_LENGTH_MOST = 120;

export type Read<T> = { readonly read: T } | { readonly faults: readonly Fault[] };

/**
 * Read the fields.
 * @param ingredient the fat it is, for the weight of a pack sold by volume
 */
export function readIngredient(
  fields: IngredientFields,
  ingredient: Ingredient,
  currency: Currency,
): Read<IngredientWords> {
  const faults: Fault[] = [];
  const fault = (field: string, sentence: string) => void faults.push({ field, sentence });
  const text = (field: keyof IngredientFields, what: string, most: number): string => {
    const value = cleanText(fields[field]);
    const long = lengthFault(what, value, most);
    if (long) fault(field, long);
    return value;
  };
  const read: IngredientWords = {
    name: text("name", "the name", NAME_LENGTH_MOST),
    supplier: text("supplier", "the supplier’s name", NAME_LENGTH_MOST),
    ...readPack(fields, ingredient, currency, fault),
    refined: readRefined(fields.refined, fault),
    scent: text("scent", "the scent", NAME_LENGTH_MOST),
    doseMostShare: readDose(fields.doseMost, fault),
    lowBelowMg: readLow(fields.lowBelow, ingredient, fault),
    note: text("note", "the note", NOTE_LONGEST),
  };
  return faults.length > 0 ? { faults } : { read };
}

type TellFault = (field: string, sentence: string) => void;

const NO_PACK = { packText: "", packMinor: null, packMg: null };

function readPack(
  fields: IngredientFields,
  ingredient: Ingredient,
  currency: Currency,
  fault: TellFault,
): Pick<IngredientWords, "packText" | "packMinor" | "packMg"> {
  const [packText, price] = [fields.pack.trim(), fields.price.trim()];
  if (packText === "" && price === "") return NO_PACK;
  if (price === "") {
    fault("price", `What does a pack of ${packText} cost? Or leave pack and price both empty.`);
  }
  const amount = readAmount(packText, ingredient);
  if ("fault" in amount) fault("pack", amount.fault);
  if (price === "" || "fault" in amount) return NO_PACK;
  const cost = readPrice(price, currency);
  if ("fault" in cost) {
    fault("price", cost.fault);
    return NO_PACK;
  }
  if (cost.minor === 0 && fields.free === "") {
    fault("price", "The price is zero. If it costs you nothing, say so; else write what it costs.");
  }
  return { packText, packMinor: cost.minor, packMg: amount.mg };
}

function readRefined(typed: string, fault: TellFault): IngredientWords["refined"] {
  const value = typed.trim().toLowerCase().replaceAll(" ", "-") || "not-told";
  const known = REFINED.find((each) => each === value);
  if (!known) fault("refined", `${quoted(typed)} is none of: refined, unrefined, not told.`);
  return known ?? "not-told";
}

function readDose(typed: string, fault: TellFault): number | null {
  const text = typed.replace(/\s*%\s*$/, "").trim();
  if (text === "") return null;
  const share = Math.round((readFigure(text) ?? Number.NaN) * 100);
  if (share > 0 && share <= WHOLE) return share;
  fault("doseMost", `${quoted(typed)} cannot be a greatest share: write a percent up to 100.`);
  return null;
}

function readLow(typed: string, ingredient: Ingredient, fault: TellFault): number | null {
  if (typed.trim() === "") return null;
  const amount = readAmount(typed, ingredient);
  if ("mg" in amount) return amount.mg;
  fault("lowBelow", amount.fault);
  return null;
}

/** The fields of a row, as a form or a table shows them. */
export function ingredientFieldsOf(row: IngredientWords, currency: Currency): IngredientFields {
  return {
    name: row.name,
    supplier: row.supplier,
    pack: row.packText,
    price: writePrice(row.packMinor, currency),
    free: row.packMinor === 0 ? "yes" : "",
    refined: row.refined,
    scent: row.scent,
    doseMost: row.doseMostShare === null ? "" : String(row.doseMostShare / 100),
    lowBelow: row.lowBelowMg === null ? "" : writeMass(row.lowBelowMg),
    note: row.note,
  };
}
