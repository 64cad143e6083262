/**
 * A shop of one's own, as it is named before there is a page to name it on: what was said is checked, what was left out
 * is found from it or told, and money is never guessed.
 */
import { NAME_ASKED, readName } from "./typed/text.ts";
import { countryNames, isLocale, isTimeZone } from "./pages/maker-shop-places.ts";
import type { ShopParticulars } from "./shapes.ts";
import { TILL_CURRENCIES } from "./tills/currency-table.ts";
import { slugOf } from "./typed/slug.ts";

export const OWN_SHOP_FIELDS = ["name", "currency", "locale", "country", "timeZone"] as const;
export type OwnShopField = (typeof OWN_SHOP_FIELDS)[number];
/** As typed; what is left out is not there. */
export type OwnShopWords = Readonly<Partial<Record<OwnShopField, string>>>;

export interface OwnShop {
  readonly id: string;
  readonly name: string;
  readonly locale: string;
  readonly currency: string;
  readonly currencyExponent: number;
  readonly particulars: ShopParticulars;
}

interface OwnShopFault {
  readonly field: OwnShopField;
  readonly sentence: string;
}

/** Until the maker says otherwise under “Shop”, weights are whole grams, which every scale can show [mg] */
const FIRST_SCALE_STEP_MG = 1000;
/** The words of the maker’s pages are English. */
const USUAL_LOCALE = "en-GB";
const ID_LENGTH_MOST = 40;

/**
 * Read what was said of a new shop.
 * @param words without a language and country, British English; without a country, that of the language
 * @param machineTimeZone where it is not said, the bench stands where this machine stands
 * @returns the shop, or every fault at once
 */
export function readOwnShop(
  words: OwnShopWords,
  machineTimeZone: string,
): { readonly shop: OwnShop } | { readonly faults: readonly OwnShopFault[] } {
  const faults: OwnShopFault[] = [];
  const fault = (field: OwnShopField, sentence: string) => void faults.push({ field, sentence });
  const name = readName(words.name ?? "");
  if (!name) fault("name", `give ${NAME_ASKED}`);
  const code = words.currency?.trim().toUpperCase() ?? "";
  const currency = TILL_CURRENCIES.get(code);
  if (code === "") fault("currency", "say which currency the shop sells in, such as EUR or GBP");
  else if (!currency)
    fault("currency", `the till cannot charge “${code}”; give a code such as EUR`);
  const country = words.country?.trim().toUpperCase();
  const locale = words.locale?.trim() ?? localeFor(country);
  if (!isLocale(locale)) {
    fault("locale", "give a language and a country, such as en-GB, de-AT or fr-CA");
  }
  const where = country ?? (isLocale(locale) ? new Intl.Locale(locale).maximize().region : "");
  if (country !== undefined && !countryNames().has(country)) {
    fault("country", `“${country}” is no country; give two letters such as GB or AT`);
  }
  const timeZone = words.timeZone?.trim() ?? machineTimeZone;
  if (!isTimeZone(timeZone)) fault("timeZone", "give a name such as Europe/London or UTC");
  if (faults.length > 0) return { faults };
  return {
    shop: {
      ...{ id: shopIdOf(name!), name: name!, currency: code },
      currencyExponent: currency!.exponent,
      locale: Intl.getCanonicalLocales(locale)[0]!,
      particulars: {
        ...{ maker: name!, country: where!, timeZone },
        scaleStepMg: FIRST_SCALE_STEP_MG,
      },
    },
  };
}

function localeFor(country: string | undefined): string {
  const english = `en-${country}`;
  return country !== undefined && isLocale(english) ? english : USUAL_LOCALE;
}

/** Id of a shop by its first name; "shop" when no Latin letter is in it. */
export function shopIdOf(name: string): string {
  return slugOf(name, ID_LENGTH_MOST) || "shop";
}

/** What a new shop was taken to be, in one line. */
export function sayOwnShop({ locale, currency, particulars }: OwnShop): string {
  const country = countryNames().get(particulars.country) ?? particulars.country;
  return `${currency}, ${country}, ${particulars.timeZone}, figures and dates as in ${locale}`;
}
