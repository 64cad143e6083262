/**
 * The words of the page. They lie in one file of messages a language (`words/en.json`), compiled when the widget is
 * built. Each language is a script of its own; the first script only knows enough English to say that it is fetching
 * them, or that they cannot be had.
 */
import type { CoreWords } from "#core/words/words.ts";
import { happened, next, page } from "./words/en.json";

/** A message; a figure that it asks for and does not get is found by the tests, which compile strictly. */
export type Say = (figures?: Readonly<Record<string, string | number>>) => string;

/** Compiled messages: chapters of functions, in the shape of the file. */
export type Compiled<Messages> = {
  readonly [Key in keyof Messages]: Messages[Key] extends string ? Say : Compiled<Messages[Key]>;
};

export type Words = Compiled<Omit<typeof import("./words/en.json"), "default">>;

/** A language's words: those of the page, and those of the core. */
export interface Catalogue {
  /** Language the words are in, such as "fr". */
  readonly lang: string;
  readonly words: Words;
  readonly core: CoreWords;
}

/** What can be said before the words are there. */
export interface FirstWords {
  readonly lang: string;
  readonly words: Pick<Words, "happened" | "next" | "page">;
}

// The build turns the file into functions; the compiler only sees its text.
const words = { happened, next, page } as unknown as FirstWords["words"];

export const FIRST_WORDS: FirstWords = { lang: "en", words };
