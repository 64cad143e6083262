/**
 * What a form carries along unseen: the id of what it makes, so that a form sent twice makes it once, and the revision
 * it was opened at, so that nobody overwrites what another has saved meanwhile.
 */
import { textOf } from "./text.ts";

/** What to say when it does not. */
export const NOT_WHOLE = "This form is not whole. Nothing was changed; please open its page again.";

/** Whether a text is an id as `numbers.id` draws them: a UUID in small letters. */
export function isDrawnId(text: string): boolean {
  return /^[\da-f]{8}(-[\da-f]{4}){3}-[\da-f]{12}$/.test(text);
}

/** A whole number that a form carries, such as a revision; NaN, which no row stands at, when it carries none. */
export function wholeIn(form: FormData, name: string): number {
  const text = textOf(form, name);
  return /^\d{1,15}$/.test(text) ? Number(text) : Number.NaN;
}
