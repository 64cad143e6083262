/**
 * The form of a shipping zone: a name and twelve temperatures.
 */
import { MONTHS } from "../days.ts";
import { NAME_ASKED, readName, textOf } from "../typed/text.ts";
import { PARCEL_RANGE_C, type ShopParticulars } from "../shapes.ts";
import { readFigure, writeFigure } from "./maker-shop-figures.ts";

type Zone = NonNullable<ShopParticulars["zones"]>[number];

export interface ZoneFields {
  readonly name: string;
  /** January to December, as typed. */
  readonly months: readonly string[];
}

export function fieldsOfZone(zone: Zone | undefined): ZoneFields {
  return {
    name: zone?.name ?? "",
    months: MONTHS.map((_, at) => (zone ? writeFigure(zone.monthsCelsius[at]!) : "")),
  };
}

export function typedZone(form: FormData): ZoneFields {
  const months = MONTHS.map((_, at) => textOf(form, `month-${at + 1}`));
  return { name: textOf(form, "name"), months };
}

/**
 * Read the form.
 * @param taken names of the other zones
 * @returns the zone; or a sentence for everything that stands against it, and the months to mend
 */
export function readZone(
  { name: typed, months }: ZoneFields,
  taken: readonly string[],
):
  | { readonly zone: Omit<Zone, "id"> }
  | { readonly faults: readonly string[]; readonly months: readonly number[] } {
  const faults: string[] = [];
  const wrong: number[] = [];
  const name = readName(typed) ?? "";
  if (name === "") faults.push(`Give the zone ${NAME_ASKED}.`);
  if (taken.includes(name)) faults.push(`There is a zone called “${name}” already.`);
  const monthsCelsius = MONTHS.map((what, at) => {
    const asked = { what, unit: "°C", ...PARCEL_RANGE_C, decimals: 1, example: 21, must: true };
    const read = readFigure(months[at] ?? "", asked);
    if (typeof read === "number") return read;
    wrong.push(at);
    faults.push(read!);
    return Number.NaN;
  });
  return faults.length > 0 ? { faults, months: wrong } : { zone: { name, monthsCelsius } };
}

export function zonePage(
  revision: number,
  says: {
    readonly id: string;
    readonly fields: ZoneFields;
    readonly faults: readonly string[];
    readonly invalid?: readonly number[];
    readonly overtaken: string;
  },
) {
  const { id, fields, faults, invalid = [], overtaken } = says;
  return {
    title: "Shipping zone",
    headline: id === "new" ? "A new zone" : "Shipping zone",
    action: `/maker/shop/zones/${id}`,
    ...{ revision, faults, overtaken, name: fields.name },
    months: MONTHS.map((month, at) => ({
      month,
      number: at + 1,
      typed: fields.months[at]!,
      invalid: invalid.includes(at),
    })),
  };
}
