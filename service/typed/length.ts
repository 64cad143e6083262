/**
 * How long a text of one's own may be.
 */

/** A note, a reason, what was seen: what is longer belongs on a paper of its own. Own choice. */
export const NOTE_LONGEST = 2000;

/**
 * What stands against a text's length; empty when it is short enough.
 * @param what as in "the note"
 */
export function lengthFault(what: string, text: string, most: number): string {
  const { length } = [...text];
  return length <= most ? "" : `Keep ${what} to ${most} characters; it has ${length}.`;
}
