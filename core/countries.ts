/**
 * Countries that share a law, as ISO 3166-1 codes.
 */

/** The member states of the European Union since 2020. */
export const EU_COUNTRIES: readonly string[] =
  "AT BE BG HR CY CZ DK EE FI FR DE GR HU IE IT LV LT LU MT NL PL PT RO SK SI ES SE".split(" ");

/** The European Economic Area and the United Kingdom, which keep much of the Union's law on goods and buyers. */
export const EEA_AND_UK: ReadonlySet<string> = new Set([...EU_COUNTRIES, "IS", "LI", "NO", "GB"]);
