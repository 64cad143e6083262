/**
 * The languages that the papers of the bench can speak, as they name themselves.
 */
export const BENCH_LANGUAGES = ["en", "de", "fr", "es"] as const;
export type BenchLanguage = (typeof BENCH_LANGUAGES)[number];

export const LANGUAGE_NAMES: Readonly<Record<BenchLanguage, string>> = {
  en: "English",
  de: "Deutsch",
  fr: "Français",
  es: "Español",
};

/** How a bench writes days and figures whose language is not that of its shop; British English, as the words are. */
const LOCALES: Readonly<Record<BenchLanguage, string>> = {
  en: "en-GB",
  de: "de",
  fr: "fr",
  es: "es",
};

/**
 * BCP 47 tag of a paper.
 * @param language what it is to speak; nothing when it is the shop's own
 * @param shopLocale tag of the shop; one without words here gives English
 */
export function paperLocale(language: BenchLanguage | undefined, shopLocale: string): string {
  const own = BENCH_LANGUAGES.find((each) => each === shopLocale.toLowerCase().split("-")[0]);
  const spoken = language ?? own ?? "en";
  // "de" says nothing against how Austria writes its numbers.
  return spoken === own ? shopLocale : LOCALES[spoken];
}
