/**
 * What is wrong with what was typed, beside the field it was typed in.
 */

export interface Fault {
  /** Of a form, or the column of a table. */
  readonly field: string;
  /** Says what to do. */
  readonly sentence: string;
}

/** The sentence beside a field; empty when nothing is wrong with it. */
export function faultOf(faults: readonly Fault[], field: string): string {
  return faults.find((each) => each.field === field)?.sentence ?? "";
}

/** What was typed, short enough to be said back. */
export function quoted(typed: string): string {
  const short = [...typed].slice(0, 40).join("");
  return `“${short}${short.length < typed.length ? "…" : ""}”`;
}
