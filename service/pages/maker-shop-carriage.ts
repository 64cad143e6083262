/**
 * The form of carriage: up to five ways to send an order, and the countries parcels go to.
 */
import type { Currency } from "#core/price/money.ts";
import type { ShopParticulars } from "../shapes.ts";
import { CARRIAGE_WAYS_MOST } from "../tills/currency.ts";
import { TILL_CURRENCIES } from "../tills/currency-table.ts";
import { type Fault, faultOf } from "../typed/fault.ts";
import { plainAmount, readMoney } from "../typed/read-money.ts";
import { NAME_ASKED, readName, textOf, textsOf } from "../typed/text.ts";
import { readFigure } from "./maker-shop-figures.ts";
import type { PartSays } from "./maker-shop-part.ts";
import { countryNames } from "./maker-shop-places.ts";

type Carriage = NonNullable<ShopParticulars["carriage"]>;

/** A way as it was typed; one without a name is none. */
export interface WayFields {
  readonly id: string;
  readonly name: string;
  readonly price: string;
  readonly least: string;
  readonly most: string;
  /** Ids of the zones that are ticked; none means everywhere. */
  readonly zones: readonly string[];
}

export interface CarriageFields {
  readonly ways: readonly WayFields[];
  readonly countries: string;
}

type Kept = Pick<ShopParticulars, "carriage" | "deliverTo">;

const PLACES = Array.from({ length: CARRIAGE_WAYS_MOST }, (_, at) => at);
const EMPTY: WayFields = { id: "", name: "", price: "", least: "", most: "", zones: [] };
/** Where the payment service takes no address from (SDK typings, `shipping_address_collection`). */
const NOT_SENT_TO = new Set("AS CX CC CU HM IR KP MH FM NF MP PW SY UM VI".split(" "));

export function fieldsOfCarriage(particulars: ShopParticulars, currency: Currency): CarriageFields {
  const { carriage = [], deliverTo, country } = particulars;
  return {
    ways: PLACES.map((at) => {
      const way = carriage[at];
      if (!way) return EMPTY;
      const { id, name, minor, days, zones = [] } = way;
      const price = plainAmount(minor, currency.exponent);
      const [least, most] = days ? [String(days.least), String(days.most)] : ["", ""];
      return { id, name, price, least, most, zones };
    }),
    countries: (deliverTo ?? [country]).join(", "),
  };
}

export function typedCarriage(form: FormData): CarriageFields {
  return {
    ways: PLACES.map((at) => ({
      id: textOf(form, `id-${at}`),
      name: textOf(form, `name-${at}`),
      price: textOf(form, `price-${at}`),
      least: textOf(form, `least-${at}`),
      most: textOf(form, `most-${at}`),
      zones: textsOf(form, `zone-${at}`),
    })),
    countries: textOf(form, "countries"),
  };
}

/**
 * Read the form.
 * @param newId draws the id of a new way
 * @returns what is to be kept, or a sentence for everything that stands against it
 */
export function readCarriage(
  fields: CarriageFields,
  { zones: known = [] }: ShopParticulars,
  currency: Currency,
  newId: () => string,
): { readonly kept: Kept } | { readonly faults: readonly Fault[] } {
  const faults: Fault[] = [];
  const fault = (field: string, sentence: string) => void faults.push({ field, sentence });
  const zoneIds = new Set(known.map(({ id }) => id));
  const carriage: Carriage = fields.ways.flatMap((way, at) => {
    if (way.name === "" && way.price === "") return [];
    const name = readName(way.name) ?? "";
    if (name === "") fault(`name-${at}`, `Give way ${at + 1} ${NAME_ASKED}.`);
    const twin = fields.ways.slice(0, at).some((other) => other.name === way.name);
    if (name !== "" && twin)
      fault(`name-${at}`, `Two ways are called “${name}”. Give one another name.`);
    const minor = readPrice(way.price, currency, (sentence) => fault(`price-${at}`, sentence));
    const days = readDays(way, (sentence) => fault(`least-${at}`, sentence));
    const zones = way.zones.filter((id) => zoneIds.has(id));
    const id = way.id === "" ? newId() : way.id;
    return [{ id, name, minor, ...(days ? { days } : {}), ...(zones.length > 0 ? { zones } : {}) }];
  });
  const deliverTo = readCountries(fields.countries, (sentence) => fault("countries", sentence));
  if (faults.length > 0) return { faults };
  return { kept: carriage.length > 0 ? { carriage, deliverTo } : {} };
}

function readPrice(typed: string, currency: Currency, fault: (sentence: string) => void): number {
  const read = readMoney(typed, currency);
  if ("sentence" in read) {
    fault(typed === "" ? "Write what it costs the customer; 0 when it is free." : read.sentence);
    return 0;
  }
  const step = TILL_CURRENCIES.get(currency.code)?.stepMinor ?? 1;
  if (read.value % step === 0) return read.value;
  const steps = plainAmount(step, currency.exponent);
  fault(`Amounts in ${currency.code} go in steps of ${steps}.`);
  return 0;
}

const DAYS = { unit: "working days", least: 0, greatest: 60, decimals: 0, example: 3, must: true };

/** Days on the way; nothing when both are left empty. */
function readDays({ least: from, most: to }: WayFields, fault: (sentence: string) => void) {
  if (from === "" && to === "") return undefined;
  const least = readFigure(from, { ...DAYS, what: "The fewest days on the way" });
  const most = readFigure(to, { ...DAYS, what: "The most days on the way", least: 1 });
  if (typeof least === "number" && typeof most === "number") {
    if (least <= most) return { least, most };
    fault("Write the fewer days first, then the more.");
  } else fault(typeof least === "string" ? least : String(most));
  return undefined;
}

function readCountries(typed: string, fault: (sentence: string) => void): string[] {
  const codes = [
    ...new Set(
      typed
        .toUpperCase()
        .split(/[\s,;]+/)
        .filter(Boolean),
    ),
  ];
  const unknown = codes.find((code) => !countryNames().has(code));
  const closed = codes.find((code) => NOT_SENT_TO.has(code));
  if (codes.length === 0) fault("Write at least one country, such as GB.");
  else if (unknown)
    fault(`“${unknown}” is no country. Write codes of two letters, such as GB, IE, FR.`);
  else if (closed)
    fault(`The payment service takes no addresses in ${countryNames().get(closed)!}.`);
  return codes;
}

export function carriagePage(
  revision: number,
  { zones = [] }: ShopParticulars,
  currency: Currency,
  { fields, faults, overtaken, saved }: PartSays<CarriageFields>,
) {
  return {
    title: "Carriage",
    ...{ revision, faults, overtaken, saved, code: currency.code },
    ways: fields.ways.map((way, at) => ({
      ...way,
      ...{ at, number: at + 1, isOpen: at === 0 || way.name !== "" || way.price !== "" },
      nameFault: faultOf(faults, `name-${at}`),
      priceFault: faultOf(faults, `price-${at}`),
      daysFault: faultOf(faults, `least-${at}`),
      zones: zones.map(({ id, name }) => ({ id, name, ticked: way.zones.includes(id) })),
    })),
    countries: fields.countries,
    countriesFault: faultOf(faults, "countries"),
    countryNames: fields.countries
      .split(/[\s,;]+/)
      .map((code) => countryNames().get(code.toUpperCase()))
      .filter(Boolean)
      .join(", "),
    /** Zones that no way goes to: whoever lives there is sent nothing and asked for no address. */
    unserved: zones
      .filter(({ id }) => {
        const ways = fields.ways.filter(({ name }) => name !== "");
        return ways.length > 0 && !ways.some(({ zones: to }) => to.length === 0 || to.includes(id));
      })
      .map(({ name }) => name),
  };
}
