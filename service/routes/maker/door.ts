/**
 * The maker's door: a one-time link begins a visit, and leaving ends it.
 */
import { Hono } from "hono";
import { deleteCookie, getCookie, setCookie } from "hono/cookie";
import { SESSION_LIFE_S, enter, isLinkGood, leave } from "../../actions/sign-in.ts";
import { renderPage } from "../../pages/render.ts";
import type { Shop } from "../../ports.ts";
import { cookieName } from "./visit.ts";

export function doorRoutes(shop: Shop) {
  const secure = shop.url.startsWith("https:");
  const cookie = cookieName(shop);
  return new Hono()
    .get("/enter/:token", async (c) => {
      const { token } = c.req.param();
      const good = await isLinkGood(shop, token);
      const model = { title: "Sign in", token, good };
      return c.html(renderPage("maker-enter", model), good ? 200 : 410);
    })
    .post("/enter/:token", async (c) => {
      const session = await enter(shop, c.req.param("token"));
      setCookie(c, cookie, session, {
        path: "/",
        httpOnly: true,
        sameSite: "Lax",
        secure,
        maxAge: SESSION_LIFE_S,
      });
      return c.redirect("/maker", 303);
    })
    .post("/leave", async (c) => {
      await leave(shop, getCookie(c, cookie) ?? "");
      deleteCookie(c, cookie, { path: "/", secure });
      return c.redirect("/", 303);
    });
}
