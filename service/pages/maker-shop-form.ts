/**
 * The form of the shop's settings: fields in, settings or sentences out. What was typed is never lost.
 */
import { lengthFault } from "../typed/length.ts";
import { NAME_ASKED, readName, textOf } from "../typed/text.ts";
import { particularsOf } from "../particulars.ts";
import type { ShopParticulars } from "../shapes.ts";
import type { ShopSettings } from "../storage/shop-settings.ts";
import type { ShopRow } from "../storage/shops.ts";
import { TILL_CURRENCIES } from "../tills/currency-table.ts";
import { BENCH_LANGUAGES } from "../words/bench-languages.ts";
import { countryNames, isLocale, isTimeZone } from "./maker-shop-places.ts";
import { readFigure, writeFigure } from "./maker-shop-figures.ts";
import { readWithdrawal, withdrawalFields } from "./maker-shop-withdrawal.ts";

const FIELDS = [
  ...(["name", "maker", "country", "locale", "benchLanguage", "timeZone", "currency"] as const),
  ...(["scaleG", "vesselG", "leadDays", "responsibleName", "responsibleAddress"] as const),
  ...(["withdrawal", "withdrawalDays", "withdrawalWords"] as const),
];
export type ShopField = (typeof FIELDS)[number];
export type ShopFields = Readonly<Record<ShopField, string>>;
export type ShopFaults = Partial<Record<ShopField, string>>;

const MG_PER_G = 1000;
const ADDRESS_LONGEST = 300;

/** What the form shows of a shop as it is stored. */
export function fieldsOfShop(row: ShopRow): ShopFields {
  const particulars = particularsOf(row);
  const { maker, country, timeZone, scaleStepMg, vesselMg, leadDays, responsible } = particulars;
  return {
    ...{ name: row.name, locale: row.locale, currency: row.currency, maker, country, timeZone },
    benchLanguage: particulars.benchLanguage ?? "",
    scaleG: writeFigure(scaleStepMg / MG_PER_G),
    vesselG: vesselMg === undefined ? "" : writeFigure(vesselMg / MG_PER_G),
    leadDays: leadDays === undefined ? "" : String(leadDays),
    responsibleName: responsible?.name ?? "",
    responsibleAddress: responsible?.address ?? "",
    ...withdrawalFields(particulars.withdrawal),
  };
}

/** The fields as they were typed; one the form did not hold is as it is stored. */
export function typedFields(form: FormData, stored: ShopFields) {
  const entries = FIELDS.map((name) => {
    return [name, form.has(name) ? textOf(form, name) : stored[name]];
  });
  return Object.fromEntries(entries) as Record<ShopField, string>;
}

/** Fields whose two versions differ. */
export function differing(one: ShopFields, other: ShopFields): ShopField[] {
  return FIELDS.filter((name) => lines(one[name]) !== lines(other[name]));
}

/**
 * Read the form.
 * @param row the shop as it is stored: what the form does not hold stays
 * @param currencyStays the shop has orders, so its currency may not change
 */
export function readShopForm(
  fields: ShopFields,
  row: ShopRow,
  currencyStays: boolean,
): { readonly settings: ShopSettings } | { readonly faults: ShopFaults } {
  const faults: ShopFaults = {};
  const named = (field: ShopField) => {
    const read = readName(fields[field]);
    if (!read) faults[field] = `Type ${NAME_ASKED}.`;
    return read ?? "";
  };
  const figure = (field: ShopField, asked: Parameters<typeof readFigure>[1]) => {
    const read = readFigure(fields[field], asked);
    if (typeof read === "string") faults[field] = read;
    return typeof read === "number" ? read : undefined;
  };
  const [name, maker] = [named("name"), named("maker")];
  const scaleG = figure("scaleG", { ...SCALE, must: true });
  const vesselG = figure("vesselG", VESSEL);
  const leadDays = figure("leadDays", LEAD);
  if (!countryNames().has(fields.country)) faults.country = "Choose the country of the bench.";
  if (!isTimeZone(fields.timeZone)) faults.timeZone = "Choose a time zone from the list.";
  if (!isLocale(fields.locale)) {
    faults.locale = "Type a language and a country as in en-GB, de-AT or fr-CA.";
  }
  const benchLanguage = BENCH_LANGUAGES.find((each) => each === fields.benchLanguage);
  if (fields.benchLanguage !== "" && !benchLanguage) {
    faults.benchLanguage = "Choose a language from the list.";
  }
  const currency = TILL_CURRENCIES.get(fields.currency);
  if (!currency) faults.currency = "Choose a currency that the till can charge.";
  else if (currencyStays && fields.currency !== row.currency) {
    faults.currency = `The shop has orders in ${row.currency}, so it stays with ${row.currency}.`;
  }
  const responsible = readResponsible(fields, faults);
  const withdrawal = readWithdrawal(fields, (field, sentence) => (faults[field] = sentence));
  if (Object.keys(faults).length > 0) return { faults };
  const particulars: ShopParticulars = {
    ...elsewhere(row),
    ...{ maker, country: fields.country, timeZone: fields.timeZone },
    scaleStepMg: Math.round(scaleG! * MG_PER_G),
    ...(vesselG === undefined ? {} : { vesselMg: Math.round(vesselG * MG_PER_G) }),
    ...(leadDays === undefined ? {} : { leadDays }),
    ...(benchLanguage ? { benchLanguage } : {}),
    ...(responsible ? { responsible } : {}),
    ...(withdrawal ? { withdrawal } : {}),
  };
  const { code, exponent } = currency!;
  return {
    settings: {
      ...{ name, currency: code, currencyExponent: exponent },
      locale: Intl.getCanonicalLocales(fields.locale)[0]!,
      particulars: JSON.stringify(particulars),
    },
  };
}

/** Particulars that other pages of the settings hold: they stay as they are. */
function elsewhere(row: ShopRow) {
  const kept = particularsOf(row);
  const { vesselMg: _vessel, leadDays: _lead, responsible: _who, ...others } = kept;
  const { withdrawal: _mind, benchLanguage: _spoken, ...rest } = others;
  return rest;
}

/** Limits against slips of the pen; common practice, no source. */
const SCALE = {
  what: "The scale’s step",
  unit: "g",
  least: 0.001,
  greatest: 100,
  decimals: 3,
  example: 0.01,
};
const VESSEL = {
  what: "The vessel",
  unit: "g",
  least: 10,
  greatest: 1_000_000,
  decimals: 3,
  example: 2500,
};
const LEAD = {
  what: "The time to the parcel",
  unit: "days",
  least: 0,
  greatest: 90,
  decimals: 0,
  example: 5,
};

function readResponsible(fields: ShopFields, faults: ShopFaults) {
  const [typed, address] = [fields.responsibleName, lines(fields.responsibleAddress)];
  if (typed === "" && address === "") return undefined;
  const name = readName(typed);
  if (!name) faults.responsibleName = `Type ${NAME_ASKED}, or clear the address as well.`;
  if (address === "") faults.responsibleAddress = "Type the address that goes with the name.";
  const long = lengthFault("the address", address, ADDRESS_LONGEST);
  if (long) faults.responsibleAddress = long;
  return { name: name ?? "", address };
}

/** Text of several lines as every browser would have sent it. */
function lines(text: string): string {
  return text.replaceAll(/\r\n?/g, "\n").trim();
}
