/**
 * Who stands at the maker's side: every page behind the door knows the shop and the person.
 */
import type { Context, MiddlewareHandler } from "hono";
import { getCookie } from "hono/cookie";
import { type Visit, visitOfSession } from "../../actions/sign-in.ts";
import type { Shop } from "../../ports.ts";
import { Refusal } from "../../problem.ts";
import type { ShopRow } from "../../storage/shops.ts";

export interface Signed {
  /** `owner`: the shop as it stood when the request came, read once for all that ask. */
  Variables: { shopId: string; visit: Visit; owner: ShopRow };
}

export type SignedContext = Context<Signed>;

/** Name of the session cookie. The __Host- prefix needs Secure, which a shop tried out over plain http cannot have. */
export function cookieName({ url }: Pick<Shop, "url">): string {
  return url.startsWith("https:") ? "__Host-softset" : "softset";
}

/** A person's own page: their ways in. */
export const YOUR_PAGE = "/maker/you";

/**
 * A place on the maker's side that somebody may be sent on to; the bench for everything else, so that a link to the
 * door cannot lead to another site.
 */
export function placeInside({ url }: Pick<Shop, "url">, wanted = ""): string {
  const base = new URL(url);
  if (!URL.canParse(wanted, base)) return "/maker";
  const { origin, pathname, search } = new URL(wanted, base);
  const inside = origin === base.origin && /^\/maker(\/(?!enter|leave)|$)/.test(pathname);
  return inside ? `${pathname}${search}` : "/maker";
}

/** Lets only people with a session through. Others are shown the door, and come back to where they wanted to go. */
export function signedIn(shop: Shop): MiddlewareHandler<Signed> {
  const cookie = cookieName(shop);
  return async (c, next) => {
    const visit = await visitOfSession(shop, getCookie(c, cookie) ?? "");
    if (!visit) {
      if (c.req.method === "GET" && c.req.header("accept")?.includes("text/html")) {
        const { pathname, search } = new URL(c.req.url);
        return c.redirect(`/maker/enter?to=${encodeURIComponent(`${pathname}${search}`)}`, 303);
      }
      throw new Refusal(
        "maker.sign-in.needed",
        "Your visit has ended, so nothing was saved. Sign in again in another tab, then go back and send this once more.",
      );
    }
    const owner = await shop.shops.byId(visit.shopId);
    if (!owner) throw new Error(`there is no shop ${visit.shopId}`);
    c.set("shopId", visit.shopId);
    c.set("visit", visit);
    c.set("owner", owner);
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
