/**
 * Keys of host shops, for the owners: made, renewed, revoked. A secret is shown once, in the answer that made it.
 */
import { readForm } from "../../middleware.ts";
import { Hono } from "hono";
import { NOT_WHOLE, isDrawnId } from "../../typed/form-carried.ts";
import { NAME_ASKED, readName, textOf } from "../../typed/text.ts";
import { apiKeysPage } from "../../pages/maker-api-keys.ts";
import { makeApiKey, renewApiKey } from "../../plugin/keys.ts";
import type { Shop } from "../../ports.ts";
import { Refusal } from "../../problem.ts";
import { Conflict } from "../../storage/database.ts";
import { makerPage } from "./page.ts";
import type { Signed, SignedContext } from "./visit.ts";

const HERE = "/maker/shop/keys";

export function apiKeyRoutes(shop: Shop) {
  async function show(c: SignedContext, says: Partial<Parameters<typeof apiKeysPage>[2]> = {}) {
    const shopId = c.get("shopId");
    const [owner, keys] = await Promise.all([shop.shops.byId(shopId), shop.apiKeys.ofShop(shopId)]);
    const model = apiKeysPage(owner!, keys, {
      ...{ newId: shop.numbers.id(), name: "", fault: "", url: shop.url },
      ...says,
    });
    return await makerPage(shop, c, "shop", "maker-api-keys", model);
  }

  const nameOf = async (c: SignedContext, id: string) =>
    (await shop.apiKeys.ofShop(c.get("shopId"))).find((key) => key.id === id)?.name ?? "";

  return new Hono<Signed>()
    .get("/", async (c) => c.html(await show(c)))
    .post("/", async (c) => {
      const form = await readForm(c);
      const [id, typed] = [textOf(form, "id"), textOf(form, "name")];
      if (!isDrawnId(id)) throw new Refusal("maker.key.unknown", NOT_WHOLE);
      const name = readName(typed);
      if (!name) {
        const fault = `Type ${NAME_ASKED} for that shop.`;
        return c.html(await show(c, { name: typed, fault }), 422);
      }
      const { shopId, personId } = c.get("visit");
      const secret = await makeApiKey(shop, { id, shopId, name, madeBy: personId });
      // Sent twice: the key is there, and its secret was in the first answer.
      if (!secret) return c.redirect(HERE, 303);
      return c.html(await show(c, { made: { name, secret } }));
    })
    .post("/:id/renew", async (c) => {
      const id = c.req.param("id");
      const secret = await renewApiKey(shop, c.get("shopId"), id);
      if (!secret) throw gone();
      return c.html(await show(c, { made: { name: await nameOf(c, id), secret } }));
    })
    .post("/:id/revoke", async (c) => {
      try {
        await shop.apiKeys.revoke(c.get("shopId"), c.req.param("id"), shop.clock.seconds());
      } catch (error) {
        if (!(error instanceof Conflict)) throw error;
        throw gone();
      }
      return c.redirect(HERE, 303);
    });
}

function gone(): Refusal {
  return new Refusal(
    "maker.key.unknown",
    "This key is revoked, or there is none at this address. Nothing was changed.",
  );
}
