/**
 * The year of a product: what its rules ask of a jar in each month, so that a maker sees what a margin does.
 */
import type { Product } from "#core/compose/product.ts";
import { type SeasonParticulars, monthOf, seasonAt } from "../season.ts";

const MONTHS = [
  ...["January", "February", "March", "April", "May", "June"],
  ...["July", "August", "September", "October", "November", "December"],
];

export interface SeasonTable {
  readonly hasZones: boolean;
  readonly months: readonly {
    readonly month: string;
    readonly now: boolean;
    readonly least: string;
    readonly because: string;
  }[];
}

/** Twelve lines, or none while there is no season. */
export function seasonTable(
  product: Pick<Product, "rules" | "parcelMarginCelsius">,
  particulars: SeasonParticulars,
  shipDay: string,
): SeasonTable {
  const hasZones = (particulars.zones ?? []).length > 0;
  if (!hasZones || product.parcelMarginCelsius === undefined) return { hasZones, months: [] };
  return {
    hasZones,
    months: MONTHS.map((month, at) => {
      const day = `2000-${String(at + 1).padStart(2, "0")}-15`;
      const { rules, parcel } = seasonAt(product, particulars, day);
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
