/**
 * The maker's door: a one-time link begins a session.
 */
import { hashToken } from "../numbers.ts";
import type { Shop } from "../ports.ts";
import { Refusal } from "../problem.ts";

const LINK_LIFE_S = 24 * 3600;
/** A session ends after this whatever happens [s] */
export const SESSION_LIFE_S = 14 * 24 * 3600;

/** Make a one-time link for a shop; links not used before are void. */
export async function issueSignInLink(
  { numbers, clock, signIns, url }: Pick<Shop, "numbers" | "clock" | "signIns" | "url">,
  shopId: string,
): Promise<string> {
  const token = numbers.token();
  const expiresAt = clock.seconds() + LINK_LIFE_S;
  await signIns.issueLink(shopId, await hashToken(token), expiresAt);
  return `${url}/maker/enter/${token}`;
}

/** Whether a link would open the door now; does not use it up, so that a preview of the link harms nothing. */
export async function isLinkGood(shop: Shop, token: string): Promise<boolean> {
  const found = await shop.signIns.linkShop(await hashToken(token), shop.clock.seconds());
  return found !== undefined;
}

/**
 * Use a link up and begin a session.
 * @returns token for the session cookie
 * @throws Refusal maker.link.spent
 */
export async function enter(shop: Shop, linkToken: string): Promise<string> {
  const at = shop.clock.seconds();
  const linkHash = await hashToken(linkToken);
  const shopId = await shop.signIns.linkShop(linkHash, at);
  const token = shop.numbers.token();
  const session = {
    tokenHash: await hashToken(token),
    createdAt: at,
    expiresAt: at + SESSION_LIFE_S,
  };
  if (!shopId || !(await shop.signIns.begin(linkHash, at, { ...session, shopId }))) {
    throw new Refusal(
      "maker.link.spent",
      "This sign-in link has been used or has expired. Start the service again to get a new one.",
    );
  }
  return token;
}

/** Who a session belongs to. */
export interface Visit {
  readonly shopId: string;
  /** Null for a visit by the service's own link, before there were people. */
  readonly personId: string | null;
  readonly name: string;
  /** The bench sees batches and work orders, never money or settings. */
  readonly role: "owner" | "bench";
}

/** The visit of a session; nothing when it has ended. */
export async function visitOfSession(shop: Shop, token: string): Promise<Visit | undefined> {
  const row = await shop.signIns.session(await hashToken(token), shop.clock.seconds());
  return row && { shopId: row.shopId, personId: row.personId, name: "", role: "owner" };
}

export async function leave(shop: Shop, token: string): Promise<void> {
  await shop.signIns.end(await hashToken(token));
}
