/**
 * What the settings of the shop say.
 */
import { withdrawalTold } from "#core/order/withdrawal.ts";
import { MONTHS } from "../days.ts";
import { particularsOf } from "../particulars.ts";
import type { ShopParticulars } from "../shapes.ts";
import type { ShopRow } from "../storage/shops.ts";
import { TILL_CURRENCIES } from "../tills/currency-table.ts";
import { LANGUAGE_NAMES } from "../words/bench-languages.ts";
import { type ShopFaults, type ShopField, type ShopFields } from "./maker-shop-form.ts";
import { sayWithdrawal } from "./disclosure-words.ts";
import { writeFigure } from "./maker-shop-figures.ts";
import { WITHDRAWAL_CHOICES } from "./maker-shop-withdrawal.ts";
import { countryNames, timeZonesFor } from "./maker-shop-places.ts";

export interface ShopPageSays {
  readonly fields: ShopFields;
  readonly faults: ShopFaults;
  readonly currencyStays: boolean;
  /** Fields somebody else saved otherwise meanwhile, with what is stored now. */
  readonly meanwhile: readonly { readonly field: ShopField; readonly stored: string }[];
  readonly overtaken: boolean;
  readonly saved: boolean;
}

const LABELS: Readonly<Record<ShopField, string>> = {
  name: "Name of the shop",
  maker: "Maker, as work orders name you",
  country: "Country of the bench",
  locale: "Language and country, for dates and money",
  benchLanguage: "Language of the bench’s papers",
  timeZone: "Time zone of the bench",
  currency: "Currency",
  scaleG: "Step of the scale",
  vesselG: "Largest batch your vessel takes",
  leadDays: "Days from order to parcel",
  responsibleName: "Name",
  responsibleAddress: "Address",
  withdrawal: "What customers are told of changing their mind",
  withdrawalDays: "Time to send it back",
  withdrawalWords: "Your own words",
};

export function shopPage(row: ShopRow, says: ShopPageSays) {
  const { fields, faults } = says;
  const field = (name: ShopField) => ({
    name,
    id: `field-${name}`,
    label: LABELS[name],
    value: fields[name],
    fault: faults[name] ?? "",
  });
  const particulars = particularsOf(row);
  return {
    title: "Shop",
    revision: row.revision,
    ...{ saved: says.saved, overtaken: says.overtaken, currencyStays: says.currencyStays },
    meanwhile: says.meanwhile.map(({ field: name, stored }) => ({
      label: LABELS[name],
      stored: stored === "" ? "nothing" : stored,
      typed: fields[name] === "" ? "nothing" : fields[name],
    })),
    faults: Object.entries(faults).map(([name, fault]) => ({
      href: `#field-${name}`,
      label: LABELS[name as ShopField],
      fault,
    })),
    shopName: field("name"),
    maker: field("maker"),
    locale_: field("locale"),
    benchLanguage: {
      ...field("benchLanguage"),
      options: options(BENCH_SPEAKS, fields.benchLanguage),
    },
    scaleG: field("scaleG"),
    vesselG: field("vesselG"),
    leadDays: field("leadDays"),
    responsibleName: field("responsibleName"),
    responsibleAddress: field("responsibleAddress"),
    withdrawal: {
      ...field("withdrawal"),
      options: options(WITHDRAWAL_CHOICES, fields.withdrawal),
    },
    withdrawalDays: field("withdrawalDays"),
    withdrawalWords: field("withdrawalWords"),
    told: sayWithdrawal(withdrawalTold(particulars.withdrawal, particulars.country)),
    country: { ...field("country"), options: options(countryNames(), fields.country) },
    timeZone: { ...field("timeZone"), groups: zoneGroups(fields.timeZone) },
    currency: {
      ...field("currency"),
      options: options(currencyNames(), fields.currency),
      decimals: TILL_CURRENCIES.get(row.currency)?.exponent ?? row.currencyExponent,
      words: currencyNames().get(row.currency) ?? row.currency,
    },
    ...zoneTables(particulars),
    carriage: (particulars.carriage ?? []).map(({ name, minor }) => ({ name, minor })),
    money: { code: row.currency, exponent: row.currencyExponent },
  };
}

const BENCH_SPEAKS: ReadonlyMap<string, string> = new Map([
  ["", "The shop’s own"],
  ...Object.entries(LANGUAGE_NAMES),
]);

/** Zones with their months; the warmest month of each is marked by a word. */
function zoneTables({ zones = [], formerZones = [] }: ShopParticulars) {
  return {
    zones: zones.map(({ id, name, monthsCelsius }) => {
      const warmest = Math.max(...monthsCelsius);
      return {
        ...{ id, name },
        temperatures: monthsCelsius.map((celsius, at) => ({
          month: MONTHS[at]!.slice(0, 3),
          celsius: writeFigure(celsius),
        })),
        warmest: `${MONTHS[monthsCelsius.indexOf(warmest)]!}, ${writeFigure(warmest)}\u00a0°C`,
      };
    }),
    formerZones: formerZones.map(({ id, name }) => ({ id, name })),
  };
}

function options(names: ReadonlyMap<string, string>, chosen: string) {
  return [...names].map(([code, words]) => ({ code, words, chosen: code === chosen }));
}

function zoneGroups(chosen: string) {
  return timeZonesFor(chosen).map(([part, names]) => ({
    part,
    names: names.map((name) => ({
      name,
      words: name.replaceAll("_", " "),
      chosen: name === chosen,
    })),
  }));
}

let currencies: ReadonlyMap<string, string> | undefined;

/** What the till can charge, by code, with the runtime's names; asked of it once. */
function currencyNames(): ReadonlyMap<string, string> {
  const names = new Intl.DisplayNames("en", { type: "currency", fallback: "code" });
  currencies ??= new Map(
    [...TILL_CURRENCIES.keys()].sort().map((code) => [code, `${code}, ${names.of(code) ?? code}`]),
  );
  return currencies;
}
