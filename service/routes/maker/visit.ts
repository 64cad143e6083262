/**
 * Who stands at the maker's side: every page behind the door knows the shop and the person.
 */
import type { Context, MiddlewareHandler } from "hono";
import { getCookie } from "hono/cookie";
import { type Visit, visitOfSession } from "../../actions/sign-in.ts";
import type { Shop } from "../../ports.ts";
import { Refusal } from "../../problem.ts";

export interface Signed {
  Variables: { shopId: string; visit: Visit };
}

export type SignedContext = Context<Signed>;

/** Name of the session cookie. The __Host- prefix needs Secure, which a shop tried out over plain http cannot have. */
export function cookieName({ url }: Pick<Shop, "url">): string {
  return url.startsWith("https:") ? "__Host-softset" : "softset";
}

/** Lets only people with a session through. */
export function signedIn(shop: Shop): MiddlewareHandler<Signed> {
  const cookie = cookieName(shop);
  return async (c, next) => {
    const visit = await visitOfSession(shop, getCookie(c, cookie) ?? "");
    if (!visit) {
      throw new Refusal(
        "maker.sign-in.needed",
        "This is the maker’s side. Open the sign-in link that the service printed when it started.",
      );
    }
    c.set("shopId", visit.shopId);
    c.set("visit", visit);
    await next();
  };
}

/** Money, products and settings are the owner's; the bench makes and records. */
export const ownersOnly: MiddlewareHandler<Signed> = async (c, next) => {
  if (c.get("visit").role !== "owner") {
    throw new Refusal("maker.role.not-enough", "This page is the owner’s. Ask them to look.");
  }
  await next();
};
