/**
 * What the core says to a customer, in the customer's language. The sentences lie in one JSON file a language beside
 * this one and hold nothing but plain {names}, so that no message has to be parsed; `fill` is all the grammar there is.
 * Translations choose shapes that need no article or case for an inserted name.
 */
import english from "./en.json";

export interface CoreWords {
  /** By finding code; findings that only the bench meets are English (`finding-bench.ts`). */
  readonly findings: Readonly<Record<string, string>>;
  readonly changes: Readonly<Record<"instead" | "added" | "less" | "more", string>>;
  /** Allergen families by id. */
  readonly families: Readonly<Record<string, string>>;
  /** How an ingredient's name stands inside a sentence: with a small letter, or as it is written. */
  readonly namesInSentence: string;
}

/** Sentences, and numbers as their readers write them. */
export interface Speech<Chapter extends keyof CoreWords = keyof CoreWords> {
  readonly core: Pick<CoreWords, Chapter>;
  number(value: number): string;
}

/** The maker's pages, the command line and the API speak English. */
export const ENGLISH: Speech = { core: english, number: String };

/**
 * Put figures into a sentence, in one pass, so that a name with braces or dollar signs in it is printed as it is.
 * @throws RangeError when a figure is missing: a sentence with a hole in it must not be read by anyone
 */
export function fill(sentence: string, figures: Readonly<Record<string, string>>): string {
  return sentence.replace(/\{(\w+)\}/g, (_, name: string) => {
    const figure = figures[name];
    if (figure === undefined) throw new RangeError(`no ${name} for "${sentence}"`);
    return figure;
  });
}

/** "Cocoa butter" inside a sentence: a small letter, unless more than the first is a capital. */
export function inSentence(name: string, { core }: Speech<"namesInSentence">): string {
  const [first = "", second = ""] = name;
  const isSmall = core.namesInSentence === "small" && second === second.toLowerCase();
  return isSmall ? first.toLowerCase() + name.slice(1) : name;
}

/** An allergen family as a customer would name it; one without a word of its own by its id. */
export function nameFamily(
  family: string,
  { core }: Pick<Speech<"families">, "core"> = ENGLISH,
): string {
  return core.families[family] ?? family.replaceAll("-", " ");
}
