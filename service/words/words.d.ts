/** What `precompile.mjs` writes, by chapter, key and language: texts with {figures} in them, and what needs grammar. */
declare module "#words" {
  type Say = (figures?: Readonly<Record<string, unknown>>) => string;
  type Messages<Said> = Readonly<
    Record<string, Readonly<Record<string, Readonly<Record<"de" | "en" | "es" | "fr", Said>>>>>
  >;
  export const said: Messages<Say>;
  export const texts: Messages<string>;
}
