/**
 * Random ids and tokens, and the clock: the two things the core never reaches for itself.
 */

/** Letters and digits that are not mistaken for one another on the phone (Crockford base 32). */
const SPOKEN = "0123456789ABCDEFGHJKMNPQRSTVWXYZ";

export interface Numbers {
  /** Random id, 122 bits. */
  id(): string;
  /** What people say on the phone: six characters, unique within a shop by constraint. */
  reference(): string;
  /** Secret token, 256 bits, base64url. */
  token(): string;
  /** Secret that a person can copy off paper: 28 letters and digits, 140 bits. */
  code(): string;
}

export interface Clock {
  /** Now, in whole seconds since 1970. */
  seconds(): number;
}

export const randomNumbers: Numbers = {
  id: () => crypto.randomUUID(),
  reference: () => spoken(6),
  code: () => spoken(28),
  token: () => toBase64url(crypto.getRandomValues(new Uint8Array(32))),
};

function spoken(length: number): string {
  const bytes = crypto.getRandomValues(new Uint8Array(length));
  return Array.from(bytes, (byte) => SPOKEN[byte % 32]).join("");
}

/** What was copied off paper, as it was made: no gaps, and the look-alikes I, L and O read as 1, 1 and 0. */
export function readSpoken(text: string): string {
  return text
    .toUpperCase()
    .replaceAll(/[\s\p{Dash}]+/gu, "")
    .replaceAll(/[IL]/g, "1")
    .replaceAll("O", "0");
}

export const systemClock: Clock = { seconds: () => Math.floor(Date.now() / 1000) };

/** Bytes as base64url without padding (RFC 4648 section 5). */
export function toBase64url(bytes: Uint8Array): string {
  return btoa(String.fromCharCode(...bytes))
    .replaceAll("+", "-")
    .replaceAll("/", "_")
    .replace(/=+$/, "");
}

/** SHA-256 of a token, so that the database holds nothing that opens a door. */
export async function hashToken(token: string): Promise<string> {
  const digest = await crypto.subtle.digest("SHA-256", new TextEncoder().encode(token));
  return toBase64url(new Uint8Array(digest));
}

/** Compares a secret without stopping at the first difference, so that time tells nothing. */
export function isSameText(one: string, other: string): boolean {
  let difference = one.length ^ other.length;
  for (let i = 0; i < other.length; i++) difference |= one.charCodeAt(i) ^ other.charCodeAt(i);
  return difference === 0;
}
