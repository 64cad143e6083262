/**
 * Text as people type it: any script, either direction, emoji too; without what cannot be seen in it.
 */
const NAME_LONGEST = 80;

/**
 * Text in one normal form, without blanks around it, without control characters but tabs and ends of lines, and without
 * halves of characters.
 */
export function cleanText(typed: string): string {
  return typed
    .normalize("NFC")
    .replaceAll(/\r\n?/g, "\n")
    .replaceAll(/[^\P{Cc}\n\t]|\p{Cs}/gu, "")
    .trim();
}

/** Clean text of a field; empty when the field is absent or holds a file. */
export function textOf(form: FormData, name: string): string {
  return textOfValue(form.get(name));
}

/** Clean text of every field of a name. */
export function textsOf(form: FormData, name: string): string[] {
  return form.getAll(name).map(textOfValue);
}

function textOfValue(typed: unknown): string {
  return typeof typed === "string" ? cleanText(typed) : "";
}

/**
 * A name, on one line, without marks that turn the direction of the text after it.
 * @returns nothing when no letter is left, or it is longer than 80 characters
 */
export function readName(text: string): string | undefined {
  const seen = cleanText(text.replaceAll(/[\p{Cc}\u2028\u2029]+/gu, " "))
    .replaceAll(/[\u202a-\u202e\u2066-\u2069]/g, "")
    .replaceAll(/\s+/g, " ")
    .trim();
  const visible = /[\p{L}\p{N}\p{P}\p{S}]/u.test(seen);
  return visible && [...seen].length <= NAME_LONGEST ? seen : undefined;
}

/** What to say when `readName` found none. */
export const NAME_ASKED = `a name of 1 to ${NAME_LONGEST} characters`;
