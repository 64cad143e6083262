/**
 * What a person's own page says.
 */
import type { PasskeyRow } from "../storage/passkeys.ts";
import type { PersonRow } from "../storage/people.ts";
import type { ShopRow } from "../storage/shops.ts";
import { momentIn } from "./maker-pages.ts";

export interface YouSay {
  readonly sessions: number;
  readonly fault: string;
  readonly notice: string;
  /** Why passkeys cannot be used here; empty when they can. */
  readonly why: string;
  readonly origin: string;
}

export function youPage(
  shop: ShopRow,
  person: PersonRow,
  passkeys: readonly PasskeyRow[],
  { sessions, fault, notice, why, origin }: YouSay,
) {
  const when = momentIn(shop);
  const live = passkeys.filter(({ removedAt }) => removedAt === null);
  const hasCode = person.recoveryHash !== null;
  return {
    title: "Your sign-in",
    name: person.name,
    roleWords: person.role === "owner" ? "an owner" : "at the bench",
    ...{ fault, notice, why, origin, hasCode },
    lasting: hasCode || live.length > 0,
    /** The code is the next thing to do: one button of a page is the filled one. */
    codeNext: !hasCode && (live.length > 0 || why !== ""),
    passkeys: live.map((passkey) => ({
      id: passkey.id,
      name: passkey.name,
      added: when(passkey.createdAt),
      used: passkey.lastUsedAt === null ? "not used yet" : `last used ${when(passkey.lastUsedAt)}`,
    })),
    removed: passkeys
      .filter(({ removedAt }) => removedAt !== null)
      .map(({ id, name, removedAt }) => ({ id, name, when: when(removedAt!) })),
    browsers: sessions === 1 ? "this browser only" : `${sessions} browsers, this one among them`,
  };
}
