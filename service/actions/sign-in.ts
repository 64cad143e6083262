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

/** The shop a session belongs to; nothing when it has ended. */
export async function shopOfSession(shop: Shop, token: string): Promise<string | undefined> {
  const row = await shop.signIns.session(await hashToken(token), shop.clock.seconds());
  return row?.shopId;
}

export async function leave(shop: Shop, token: string): Promise<void> {
  await shop.signIns.end(await hashToken(token));
}
