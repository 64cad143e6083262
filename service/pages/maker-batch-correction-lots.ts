/**
 * The lots of a run to choose from, each with what there is of it and what stands against it.
 */
import type { LineLots, LotStanding } from "../batches/correction-choices.ts";
import type { Correction } from "../batches/correction.ts";
import type { ShopRow } from "../storage/shops.ts";
import type { LotRow } from "../storage/stock.ts";
import { gramsIn } from "./maker-pages.ts";

/** A choice of lot for each line that has any. */
export function lotFields(
  shop: ShopRow,
  lines: readonly LineLots[],
  correction: Pick<Correction, "lots" | "chosen">,
) {
  return lines
    .filter(({ lots }) => lots.length > 0)
    .map(({ ingredient, name, lots }, at) => {
      const given = correction.lots.lines.find((line) => line.ingredient === ingredient);
      const codes = given?.portions.map(({ lot }) => lot.code).join(", then ") ?? "";
      const chosen = correction.chosen.get(ingredient);
      return {
        id: `lot-${at}`,
        name,
        suggested:
          chosen || codes === "" ? "As the shelf gives them" : `As the shelf gives them: ${codes}`,
        options: lots.map(({ lot, against }) => ({
          value: lot.id,
          words: lotWords(shop, lot, against),
          disabled: against !== "",
          selected: lot.id === chosen?.id,
        })),
      };
    });
}

function lotWords(shop: ShopRow, lot: LotRow, against: LotStanding["against"]): string {
  const keeps = lot.bestBefore === null ? "no date" : `best before ${lot.bestBefore}`;
  const paper = lot.certificate === null ? "no certificate" : "certificate";
  const words = `${lot.code}: ${gramsIn(shop)(lot.onHandMg)}, ${keeps}, ${paper}`;
  return against === "" ? words : `${words} (${against})`;
}

/** Why a lot that was asked for is not taken. */
export function refusedWords(shop: ShopRow, name: string, { lot, against }: LotStanding): string {
  const why = {
    "": "cannot be taken",
    blocked: `is blocked (${lot.blockedBecause ?? ""})`,
    "past its date": `is past its best-before of ${lot.bestBefore ?? ""}`,
    "too little": `holds only ${gramsIn(shop)(lot.onHandMg)}, less than one weighing`,
  }[against];
  return `Lot ${lot.code} of ${name} ${why}. What the shelf gives is shown instead.`;
}
