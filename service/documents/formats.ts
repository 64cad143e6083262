/**
 * Formatters of the platform, made once for every locale, zone and way of writing: making one takes longer than a
 * hundred figures written by it.
 */
const numbers = new Map<string, Intl.NumberFormat>();
const moments = new Map<string, Intl.DateTimeFormat>();
const countries = new Map<string, Intl.DisplayNames>();
const lists = new Map<string, Intl.ListFormat>();

/** More than a service meets; a shop's settings may be tried out without end. */
const KEPT_MOST = 200;

export function numberFormat(locale: string, how: Intl.NumberFormatOptions): Intl.NumberFormat {
  return kept(numbers, keyOf(locale, how), () => new Intl.NumberFormat(locale, how));
}

export function momentFormat(locale: string, how: Intl.DateTimeFormatOptions) {
  return kept(moments, keyOf(locale, how), () => new Intl.DateTimeFormat(locale, how));
}

/** "A, B and C" as a language strings names together. */
export function listFormat(locale: string): Intl.ListFormat {
  return kept(lists, locale, () => new Intl.ListFormat(locale, { type: "conjunction" }));
}

/** Name of a country in a language. @param code ISO 3166-1; stands for itself where it has no name */
export function countryName(locale: string, code: string): string {
  const names = kept(
    countries,
    locale,
    () => new Intl.DisplayNames(locale, { type: "region", fallback: "code" }),
  );
  return names.of(code) ?? code;
}

function keyOf(locale: string, how: object): string {
  return `${locale} ${JSON.stringify(how)}`;
}

function kept<Format>(all: Map<string, Format>, key: string, make: () => Format): Format {
  const known = all.get(key);
  if (known) return known;
  const made = make();
  if (all.size >= KEPT_MOST) all.clear();
  all.set(key, made);
  return made;
}
