/**
 * Names as people type them: any script, either direction, emoji too.
 */
const NAME_LONGEST = 80;

/**
 * A name without what cannot be seen in it: control characters, and marks that turn the direction of the text after.
 * @returns nothing when no letter is left, or it is longer than 80 characters
 */
export function readName(text: string): string | undefined {
  const seen = text
    .normalize("NFC")
    .replaceAll(/[\p{Cc}\u2028\u2029]+/gu, " ")
    .replaceAll(/[\u202a-\u202e\u2066-\u2069]/g, "")
    .replaceAll(/\s+/g, " ")
    .trim();
  const visible = /[\p{L}\p{N}\p{P}\p{S}]/u.test(seen);
  return visible && [...seen].length <= NAME_LONGEST ? seen : undefined;
}

/** What to say when `readName` found none. */
export const NAME_ASKED = `a name of 1 to ${NAME_LONGEST} characters`;
