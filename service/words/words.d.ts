/** What `precompile.mjs` writes: chapters of compiled messages, by language. */
declare module "#words" {
  type Say = (figures?: Readonly<Record<string, unknown>>) => string;
  type Words = Readonly<Record<string, Readonly<Record<string, Say>>>>;
  export const de: Words;
  export const en: Words;
  export const es: Words;
  export const fr: Words;
}
