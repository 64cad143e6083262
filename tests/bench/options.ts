/**
 * How much is to be measured, as it is said behind `npm run bench --`.
 */
export interface Options {
  /** Small sizes and short times: shows that all of it works, and its figures say little. */
  readonly isQuick: boolean;
  /** Chapters by name; all when empty. */
  readonly only: readonly string[];
}

/** @throws an Error that says what can be said */
export function readOptions(words: readonly string[], chapters: readonly string[]): Options {
  let isQuick = false;
  let only: readonly string[] = [];
  for (const word of words) {
    const [, named] = /^--only=(.+)$/.exec(word) ?? [];
    if (word === "--quick") isQuick = true;
    else if (named) only = named.split(",");
    else throw new Error(usage(`“${word}” means nothing here.`, chapters));
  }
  const strange = only.find((name) => !chapters.includes(name));
  if (strange) throw new Error(usage(`There is no chapter “${strange}”.`, chapters));
  return { isQuick, only };
}

function usage(fault: string, chapters: readonly string[]): string {
  return (
    `${fault} Say it so: npm run bench -- [--quick] [--only=CHAPTER,...]\n` +
    `Chapters: ${chapters.join(", ")}`
  );
}
