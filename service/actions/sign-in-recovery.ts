/**
 * The recovery code: printed, kept in a drawer, good once.
 *
 * It holds 140 random bits. Guessing one in a shop of ten people takes 10^41 tries, so attempts are not counted: a
 * counter would only let a stranger lock the maker out. It is looked up by its SHA-256, so how long the look-up takes
 * says nothing of the code; and a slow hash, which is for secrets people think up, would add nothing.
 */
import { hashToken, readSpoken } from "../numbers.ts";
import type { Shop } from "../ports.ts";
import { Conflict } from "../storage/database.ts";
import { Refusal } from "../problem.ts";
import { type Visit, newSession } from "./sign-in.ts";

/** Longer than any code with its gaps; more is not hashed. */
const TYPED_LONGEST = 200;

/**
 * Make a new code; the one before is void.
 * @returns the code in groups of four, to be shown once
 */
export async function makeRecoveryCode(
  shop: Shop,
  { shopId, personId }: Visit,
): Promise<readonly string[]> {
  const code = shop.numbers.code();
  try {
    await shop.people.setRecovery(shopId, personId, await hashToken(code));
  } catch (error) {
    if (!(error instanceof Conflict)) throw error;
    throw new Refusal("maker.person.unknown", "You were removed from this shop meanwhile.");
  }
  return code.match(/.{4}/g)!;
}

/**
 * Use a code up and begin a session, the only one its person has from then on.
 * @param typed as copied off paper: small letters, gaps and dashes do not matter
 * @returns token for the session cookie; nothing when no such code is good
 */
export async function enterByCode(shop: Shop, typed: string): Promise<string | undefined> {
  if (typed.length > TYPED_LONGEST) return undefined;
  const hash = await hashToken(readSpoken(typed));
  const person = await shop.people.byRecoveryHash(hash);
  if (!person) return undefined;
  const session = await newSession(shop, person);
  return (await shop.signIns.beginByCode(hash, session.row)) ? session.token : undefined;
}
