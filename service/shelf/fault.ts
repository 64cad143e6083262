/** What is wrong with a field of a form or a column of a table, in a sentence that says what to do. */
export interface Fault {
  readonly field: string;
  readonly sentence: string;
}

/** What was typed, short enough to be said back. */
export function quoted(typed: string): string {
  const short = [...typed].slice(0, 40).join("");
  return `“${short}${short.length < typed.length ? "…" : ""}”`;
}
