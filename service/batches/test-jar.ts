/**
 * A batch's blend on the form for a test jar: what was really weighed, and the lot of its greatest butter.
 */
import { apportion } from "#core/apportion.ts";
import { WHOLE } from "#core/blend.ts";
import { pantryOf } from "../actions/pantry.ts";
import { EMPTY_FIELDS, type JarFields, PART_ROWS } from "../kitchen/jar-fields.ts";
import type { Shop } from "../ports.ts";
import { batchOf } from "./close.ts";
import { actualMgOf, readClosing } from "./closing-shape.ts";
import { linesOf, readSheets } from "./sheets.ts";

/**
 * The form of a test jar, filled in from the first run of a batch.
 * @throws Refusal make.batch.unknown
 */
export async function jarFieldsOf(shop: Shop, shopId: string, number: string): Promise<JarFields> {
  const batch = await batchOf(shop, shopId, number);
  const [run] = readSheets(batch.workOrder).runs;
  const named = linesOf(run!).map(({ ingredient }) => ingredient);
  const { rows, ingredientOf } = await pantryOf(shop, shopId, named);
  const closed = batch.state === "made" ? readClosing(batch.closing)?.runs[0] : undefined;
  const weighed = linesOf(run!).map((line, at) => {
    const made = closed?.lines[at];
    return { ingredient: line.ingredient, mg: made ? actualMgOf(made) : line.targetMg, made };
  });
  const shares = apportion(
    WHOLE,
    weighed.map(({ mg }) => mg),
  );
  // The kitchen knows fats by the library's names, the batch by the maker's own.
  const libraryId = (id: string) => rows.find((row) => row.id === id)?.libraryId ?? id;
  const parts = weighed.map(({ ingredient }, at) => ({
    ingredient: libraryId(ingredient),
    percent: String(shares[at]! / 100),
  }));
  const butter = [...weighed]
    .filter(({ ingredient }) => ingredientOf(ingredient)?.kind === "butter")
    .sort((one, other) => other.mg - one.mg)[0];
  const blank = { ingredient: "", percent: "" };
  return {
    ...EMPTY_FIELDS,
    parts: Array.from({ length: Math.max(PART_ROWS, parts.length) }, (_, at) => parts[at] ?? blank),
    lot: butter?.made?.portions[0]?.code ?? "",
    batch: number,
  };
}
