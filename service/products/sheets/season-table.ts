/**
 * The year of a product: what its rules ask of a jar in each month, so that a maker sees what a margin does.
 */
import type { Product } from "#core/compose/product.ts";
import { MONTHS } from "../../days.ts";
import type { Desk } from "../desk.ts";
import { monthOf, seasonAt } from "../season.ts";
import { midMonth, ownShut, sayOwnShut, sayShut, yearShut } from "../year.ts";

export interface SeasonTable {
  readonly hasZones: boolean;
  /** In which months a base, or its blend as written, cannot be ordered. */
  readonly sentences: readonly string[];
  readonly months: readonly {
    readonly month: string;
    readonly now: boolean;
    readonly least: string;
    readonly because: string;
  }[];
}

/** A search takes some 10 ms, and each base a few of them; with more bases only the page of publishing says it. */
const SEARCHED_MOST = 6;

/** Twelve lines, or none while there is no season. */
export function seasonTable(product: Product, desk: Desk, shipDay: string): SeasonTable {
  const { particulars } = desk;
  const hasZones = (particulars.zones ?? []).length > 0;
  if (!hasZones || product.parcelMarginCelsius === undefined) {
    return { hasZones, months: [], sentences: [] };
  }
  return {
    hasZones,
    sentences: sentencesOf(product, desk),
    months: MONTHS.map((month, at) => {
      const { rules, parcel } = seasonAt(product, particulars, midMonth(at));
      const least = rules.softensAboveLeastCelsius;
      return {
        month,
        now: at + 1 === monthOf(shipDay),
        least: least === undefined ? "not ruled" : `${least} °C`,
        because: parcel
          ? `${parcel.celsius} °C in a parcel to ${parcel.zone.name}`
          : "your own least",
      };
    }),
  };
}

function sentencesOf(product: Product, desk: Desk): string[] {
  if (product.bases.length > SEARCHED_MOST) {
    return ["The page of publishing tells in which months a base cannot be ordered."];
  }
  const shut = yearShut(product, desk);
  return [...shut.map(sayShut), ...ownShut(product, desk, shut).map(sayOwnShut)];
}
