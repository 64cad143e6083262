/**
 * Additives: the same in every jar, each with a most that is not gone beyond.
 */
import { type Desk, nameOf } from "../desk.ts";
import { doseCapOf, doseFault } from "../doses.ts";
import { percentWords, readShare, typedShare } from "../fields.ts";
import type { Fault } from "../../typed/fault.ts";
import { textsOf } from "../../typed/text.ts";
import { choicesOf } from "./choices.ts";
import { type SheetForm, outcome } from "./sheet-form.ts";

const SPARE_ROWS = 2;
const ADDITIVES_MOST = 12;

interface TypedRow {
  readonly ingredient: string;
  readonly share: string;
}

export const ADDITIVES_SHEET: SheetForm<readonly TypedRow[]> = {
  sheet: "additives",
  page: "maker-product-additives",
  write: ({ product: { additives } }) => [
    ...additives.map(({ ingredient, share }) => ({ ingredient, share: typedShare(share) })),
    ...Array.from({ length: SPARE_ROWS }, () => ({ ingredient: "", share: "" })),
  ],
  read(form) {
    const shares = textsOf(form, "share");
    return textsOf(form, "ingredient").map((ingredient, at) => ({
      ingredient,
      share: shares[at] ?? "",
    }));
  },
  apply(typed, draft, desk) {
    const faults: Fault[] = [];
    const additives = typed.flatMap((row, at) => readRow(row, at, typed, desk, faults));
    if (additives.length > ADDITIVES_MOST) {
      const sentence = `A product can have ${ADDITIVES_MOST} additives.`;
      faults.push({ field: "additive-0", sentence });
    }
    return outcome(faults, () => ({ ...draft, product: { ...draft.product, additives } }));
  },
  model: (typed, _draft, desk) => ({
    rows: typed.map(({ ingredient, share }, at) => ({
      field: `additive-${at}`,
      number: at + 1,
      share,
      cap: ingredient === "" ? "" : capWords(desk, ingredient),
      groups: choicesOf(desk, ["additive", "powder", "wax"], ingredient, (id) => {
        const { mostShare } = doseCapOf(desk, id);
        return `, at most ${percentWords(mostShare)}`;
      }),
    })),
  }),
};

function capWords(desk: Desk, id: string): string {
  const { mostShare, because } = doseCapOf(desk, id);
  return because === "" ? "" : `${percentWords(mostShare)} is ${because}.`;
}

function readRow(
  { ingredient, share: typed }: TypedRow,
  at: number,
  all: readonly TypedRow[],
  desk: Desk,
  faults: Fault[],
) {
  const field = `additive-${at}`;
  if (ingredient === "") {
    if (typed !== "")
      faults.push({ field, sentence: "A share stands on a line without an additive." });
    return [];
  }
  const name = nameOf(desk, ingredient);
  if (!desk.ingredientOf(ingredient)) {
    faults.push({ field, sentence: `Nothing is known of ${name}: choose another.` });
    return [];
  }
  if (all.slice(0, at).some((before) => before.ingredient === ingredient)) {
    faults.push({ field, sentence: `${name} stands here twice: put both shares on one line.` });
  }
  const before = faults.length;
  const ask = { field: `${field}-share`, what: `The share of ${name}` };
  const share = readShare(typed, ask, faults);
  if (faults.length > before) return [];
  if (share === 0) {
    faults.push({
      field: ask.field,
      sentence: `${ask.what} is 0: write more, or take the line out.`,
    });
  }
  const beyond = doseFault(desk, ingredient, share);
  if (beyond) faults.push({ field: ask.field, sentence: beyond });
  return [{ ingredient, share }];
}
