/**
 * What the page of people says.
 */
import type { People, Role } from "../storage/people.ts";
import type { ShopRow } from "../storage/shops.ts";
import { countWords } from "../words/count-words.ts";
import { momentIn } from "./maker-pages.ts";

export interface PeopleSay {
  readonly visitorId: string;
  /** Id of whoever is invited next: a form sent twice adds one person. */
  readonly newId: string;
  readonly name: string;
  readonly role: Role;
  readonly fault: string;
  /** A link just made; it is never shown again. */
  readonly link?: { readonly link: string; readonly name: string };
}

export function peoplePage(
  shop: ShopRow,
  rows: Awaited<ReturnType<People["ofShop"]>>,
  { visitorId, newId, name, role, fault, link }: PeopleSay,
) {
  const when = momentIn(shop);
  const people = rows.map(({ person, passkeys }) => ({
    id: person.id,
    name: person.name,
    you: person.id === visitorId,
    roleWords: person.role === "owner" ? "Owner" : "Bench",
    otherRole: person.role === "owner" ? "bench" : "owner",
    otherWords: person.role === "owner" ? "Make bench" : "Make owner",
    ways: waysIn(passkeys, person.recoveryHash !== null),
    removed: person.removedAt === null ? "" : when(person.removedAt),
  }));
  return {
    title: "People",
    people: people.filter(({ removed }) => removed === ""),
    removed: people.filter(({ removed }) => removed !== ""),
    alone: people.filter(({ removed }) => removed === "").length === 1,
    invitation: link ?? null,
    form: { id: newId, name, fault, ownerChosen: role === "owner", benchChosen: role === "bench" },
  };
}

function waysIn(passkeys: number, code: boolean): string {
  if (passkeys === 0 && !code) return "no passkey or code yet";
  const keys = countWords(passkeys, "passkey");
  if (passkeys === 0) return "a recovery code";
  return code ? `${keys} and a recovery code` : keys;
}
