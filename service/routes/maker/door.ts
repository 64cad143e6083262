/**
 * The maker's door: a passkey, a recovery code or a one-time link begins a visit, and leaving ends it.
 */
import { textOf } from "../../typed/text.ts";
import { type Context, Hono } from "hono";
import { deleteCookie, getCookie, setCookie } from "hono/cookie";
import { askToEnter, enterByPasskey } from "../../actions/passkeys.ts";
import { whyNoPasskeys } from "../../actions/passkeys-party.ts";
import { enterByCode } from "../../actions/sign-in-recovery.ts";
import { SESSION_LIFE_S, enter, leave, lookAtLink, visitOfSession } from "../../actions/sign-in.ts";
import { readForm, readJson } from "../../middleware.ts";
import { renderPage } from "../../pages/render.ts";
import type { Shop } from "../../ports.ts";
import { AssertionShape } from "./passkey-shapes.ts";
import { YOUR_PAGE, cookieName, placeInside } from "./visit.ts";

export function doorRoutes(shop: Shop) {
  const secure = shop.url.startsWith("https:");
  const cookie = cookieName(shop);

  /** Begin a visit. @param by what opened the door, for the log: who it was is not told there */
  const begin = (c: Context, session: string, by: "passkey" | "code" | "link") => {
    shop.log({ request: c.get("requestId"), note: "signed in", by });
    setCookie(c, cookie, session, {
      path: "/",
      httpOnly: true,
      sameSite: "Lax",
      secure,
      maxAge: SESSION_LIFE_S,
    });
  };

  const door = (c: Context, status: 200 | 403, to: string, fault = "") => {
    const why = whyNoPasskeys(shop.url) ?? "";
    const { origin } = new URL(shop.url);
    return c.html(renderPage("maker-enter", { title: "Sign in", to, fault, why, origin }), status);
  };

  /** Where somebody goes who has just come in: to make a way in that lasts, when they have none. */
  async function next(session: string, to: string): Promise<string> {
    const visit = await visitOfSession(shop, session);
    if (!visit) return to;
    const [person, passkeys] = await Promise.all([
      shop.people.byId(visit.shopId, visit.personId),
      shop.passkeys.ofPerson(visit.personId),
    ]);
    const lasting = person?.recoveryHash || passkeys.some(({ removedAt }) => removedAt === null);
    return lasting ? to : YOUR_PAGE;
  }

  return new Hono()
    .get("/enter", async (c) => {
      const to = placeInside(shop, c.req.query("to"));
      const visit = await visitOfSession(shop, getCookie(c, cookie) ?? "");
      return visit ? c.redirect(to, 303) : door(c, 200, to);
    })
    .post("/enter/options", async (c) => c.json(await askToEnter(shop)))
    .post("/enter/passkey", async (c) => {
      const { to, response } = await readJson(c, AssertionShape);
      begin(c, await enterByPasskey(shop, response), "passkey");
      return c.json({ to: placeInside(shop, to) });
    })
    .post("/enter/code", async (c) => {
      const form = await readForm(c);
      const to = placeInside(shop, textOf(form, "to"));
      const session = await enterByCode(shop, textOf(form, "code"));
      if (!session) {
        shop.log({ request: c.get("requestId"), note: "not signed in", by: "code" });
        return door(c, 403, to, NO_SUCH_CODE);
      }
      begin(c, session, "code");
      return c.redirect(`${YOUR_PAGE}?code=used`, 303);
    })
    .get("/enter/:token", async (c) => {
      const { token } = c.req.param();
      const link = await lookAtLink(shop, token);
      const model = {
        title: "Sign in",
        token,
        good: link !== undefined,
        named: link?.name ?? "",
      };
      return c.html(renderPage("maker-enter-link", model), link ? 200 : 410);
    })
    .post("/enter/:token", async (c) => {
      const name = textOf(await readForm(c), "name");
      const session = await enter(shop, c.req.param("token"), name);
      begin(c, session, "link");
      return c.redirect(await next(session, "/maker"), 303);
    })
    .post("/leave", async (c) => {
      await leave(shop, getCookie(c, cookie) ?? "");
      deleteCookie(c, cookie, { path: "/", secure });
      return c.redirect("/", 303);
    });
}

const NO_SUCH_CODE =
  "That is not a recovery code that is still good. Check it against the paper, letter by letter; a code works once.";
