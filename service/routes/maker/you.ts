/**
 * A person's own page: their name, their passkeys, their recovery code, and where they are signed in.
 */
import { Hono } from "hono";
import { deleteCookie } from "hono/cookie";
import { addPasskey, askToAdd } from "../../actions/passkeys.ts";
import { whyNoPasskeys } from "../../actions/passkeys-party.ts";
import { NAME_ASKED, readName, textOf } from "../../typed/text.ts";
import { makeRecoveryCode } from "../../actions/sign-in-recovery.ts";
import { readForm, readJson } from "../../middleware.ts";
import { youPage } from "../../pages/maker-you.ts";
import type { Shop } from "../../ports.ts";
import { Refusal } from "../../problem.ts";
import { Conflict } from "../../storage/database.ts";
import { makerPage } from "./page.ts";
import { AttestationShape } from "./passkey-shapes.ts";
import { type Signed, type SignedContext, YOUR_PAGE, cookieName } from "./visit.ts";

export function youRoutes(shop: Shop) {
  async function show(c: SignedContext, fault = "") {
    const { shopId, personId } = c.get("visit");
    const [person, passkeys, sessions] = await Promise.all([
      shop.people.byId(shopId, personId),
      shop.passkeys.ofPerson(personId),
      shop.signIns.openSessions(personId, shop.clock.seconds()),
    ]);
    const model = youPage(c.get("owner"), person!, passkeys, {
      sessions,
      fault,
      notice: NOTICES[c.req.query("code") ?? ""] ?? "",
      why: whyNoPasskeys(shop.url) ?? "",
      origin: new URL(shop.url).origin,
    });
    return await makerPage(shop, c, "you", "maker-you", model);
  }

  /** Change one of the visitor's passkeys and go back to the page. */
  async function change(
    c: SignedContext,
    work: (personId: string, id: string) => Promise<void>,
    otherwise: (known: boolean) => void,
  ) {
    const { personId } = c.get("visit");
    const id = c.req.param("id") ?? "";
    try {
      await work(personId, id);
    } catch (error) {
      if (!(error instanceof Conflict)) throw error;
      const all = await shop.passkeys.ofPerson(personId);
      otherwise(all.some((passkey) => passkey.id === id));
    }
    return c.redirect(`${YOUR_PAGE}#passkeys`, 303);
  }

  return new Hono<Signed>()
    .get("/", async (c) => c.html(await show(c)))
    .post("/name", async (c) => {
      const read = readName(textOf(await readForm(c), "name"));
      if (!read) return c.html(await show(c, `Type ${NAME_ASKED}.`), 422);
      await shop.people.rename(c.get("shopId"), c.get("visit").personId, read);
      return c.redirect(YOUR_PAGE, 303);
    })
    .post("/passkeys/options", async (c) => c.json(await askToAdd(shop, c.get("visit"))))
    .post("/passkeys", async (c) => {
      const { name, response } = await readJson(c, AttestationShape);
      await addPasskey(shop, c.get("visit"), readName(name) ?? "Passkey", response);
      return c.json({ to: `${YOUR_PAGE}#passkeys` }, 201);
    })
    .post("/passkeys/:id/name", async (c) => {
      const read = readName(textOf(await readForm(c), "name"));
      if (!read) return c.html(await show(c, `Give the passkey ${NAME_ASKED}.`), 422);
      return await change(c, (own, id) => shop.passkeys.rename(own, id, read), mustBeKnown);
    })
    .post("/passkeys/:id/remove", (c) =>
      change(
        c,
        (own, id) => shop.passkeys.remove(own, id, shop.clock.seconds()),
        (known) => {
          mustBeKnown(known);
          throw new Refusal("maker.way-in.last", LAST_WAY_IN);
        },
      ),
    )
    .post("/passkeys/:id/restore", (c) =>
      change(c, (own, id) => shop.passkeys.putBack(own, id), mustBeKnown),
    )
    .post("/recovery-code", async (c) => {
      // Shown in the answer itself: only its hash is kept, so no later page could show it.
      const groups = await makeRecoveryCode(shop, c.get("visit"));
      const model = { title: "Recovery code", groups, address: `${shop.url}/maker/enter` };
      return c.html(await makerPage(shop, c, "you", "maker-recovery-code", model));
    })
    .post("/leave-everywhere", async (c) => {
      await shop.signIns.endAllOf(c.get("visit").personId);
      deleteCookie(c, cookieName(shop), { path: "/", secure: shop.url.startsWith("https:") });
      return c.redirect("/maker/enter", 303);
    });
}

const NOTICES: Readonly<Record<string, string>> = {
  used: "You came in by your recovery code, which signed you out everywhere else; that code is void now. Print a new one before you go on.",
};

const LAST_WAY_IN =
  "Nothing was changed: this passkey is your only way in. Add another passkey or print a recovery code first.";

function mustBeKnown(known: boolean): void {
  if (!known) throw new Refusal("maker.passkey.unknown", "There is no such passkey of yours.");
}
