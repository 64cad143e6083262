/**
 * The maker's door: what opens it, and the session that begins behind it.
 */
import { hashToken } from "../numbers.ts";
import type { Shop } from "../ports.ts";
import { Refusal } from "../problem.ts";
import type { PersonRow, Role } from "../storage/people.ts";
import type { NewSession } from "../storage/sign-ins.ts";
import { readName } from "../typed/text.ts";

const DAY_S = 24 * 3600;
/** The service prints a new link at every start. */
const LINK_LIFE_S = DAY_S;
/** Whoever is invited may not be at the bench every day. */
const INVITATION_LIFE_S = 7 * DAY_S;
/** A session ends after this whatever happens [s] */
export const SESSION_LIFE_S = 14 * DAY_S;

/**
 * Make a one-time link; those for the same person not used before are void.
 * @param personId whom it lets in; the shop's first owner when not said
 */
export async function issueSignInLink(
  { numbers, clock, signIns, url }: Pick<Shop, "numbers" | "clock" | "signIns" | "url">,
  shopId: string,
  personId: string | null = null,
): Promise<string> {
  const token = numbers.token();
  const expiresAt = clock.seconds() + (personId ? INVITATION_LIFE_S : LINK_LIFE_S);
  await signIns.issueLink(shopId, personId, await hashToken(token), expiresAt);
  return `${url}/maker/enter/${token}`;
}

/**
 * Whom a link would let in; does not use it up, so that a preview of the link harms nothing.
 * @returns nothing when the link is spent; a person of no name when the shop has no owner yet
 */
export async function lookAtLink(
  shop: Shop,
  token: string,
): Promise<{ readonly shopId: string; readonly name: string | undefined } | undefined> {
  const found = await shop.signIns.link(await hashToken(token), shop.clock.seconds());
  return found && { shopId: found.link.shopId, name: found.person?.name };
}

/**
 * Use a link up and begin a session.
 * @param name of the shop's first owner, when there is none yet
 * @returns token for the session cookie
 * @throws Refusal maker.link.spent
 */
export async function enter(shop: Shop, linkToken: string, name: string): Promise<string> {
  const linkHash = await hashToken(linkToken);
  const at = shop.clock.seconds();
  const found = await shop.signIns.link(linkHash, at);
  if (found) {
    const { link } = found;
    const newcomer = found.person
      ? undefined
      : {
          ...{ id: shop.numbers.id(), shopId: link.shopId, role: "owner" as const, createdAt: at },
          name: readName(name) ?? "Owner",
        };
    const session = await newSession(shop, (found.person ?? newcomer)!);
    if (await shop.signIns.beginByLink(linkHash, session.row, newcomer)) return session.token;
  }
  throw new Refusal(
    "maker.link.spent",
    "This sign-in link has been used or has expired. Start the service again, or ask an owner, to get a new one.",
  );
}

/** A session that begins now: the token for the browser, and the row that knows only its hash. */
export async function newSession(
  { numbers, clock }: Pick<Shop, "numbers" | "clock">,
  { id: personId, shopId }: Pick<PersonRow, "id" | "shopId">,
): Promise<{ readonly token: string; readonly row: NewSession }> {
  const token = numbers.token();
  const createdAt = clock.seconds();
  const expiresAt = createdAt + SESSION_LIFE_S;
  const row = { tokenHash: await hashToken(token), shopId, personId, createdAt, expiresAt };
  return { token, row };
}

/** Who a session belongs to. */
export interface Visit {
  readonly shopId: string;
  readonly personId: string;
  readonly name: string;
  /** The bench sees batches and work orders, never money or settings. */
  readonly role: Role;
}

/** The visit of a session; nothing when it has ended or its person was removed. */
export async function visitOfSession(shop: Shop, token: string): Promise<Visit | undefined> {
  if (token === "") return undefined;
  const person = await shop.signIns.personOf(await hashToken(token), shop.clock.seconds());
  return (
    person && {
      shopId: person.shopId,
      personId: person.id,
      name: person.name,
      role: person.role,
    }
  );
}

export async function leave(shop: Shop, token: string): Promise<void> {
  await shop.signIns.end(await hashToken(token));
}
