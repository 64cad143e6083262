/**
 * Who works in the shop, for its owners.
 */
import { readForm } from "../../middleware.ts";
import { Hono } from "hono";
import {
  changeRole,
  invite,
  inviteAgain,
  putPersonBack,
  removePerson,
} from "../../actions/people.ts";
import { NOT_WHOLE, isDrawnId } from "../../typed/form-carried.ts";
import { NAME_ASKED, readName, textOf } from "../../typed/text.ts";
import { peoplePage } from "../../pages/maker-people.ts";
import type { Shop } from "../../ports.ts";
import { Refusal } from "../../problem.ts";
import { makerPage } from "./page.ts";
import type { Signed, SignedContext } from "./visit.ts";

const HERE = "/maker/shop/people";

export function peopleRoutes(shop: Shop) {
  async function show(c: SignedContext, says: Partial<Parameters<typeof peoplePage>[2]> = {}) {
    const { shopId, personId } = c.get("visit");
    const people = await shop.people.ofShop(shopId);
    const model = peoplePage(c.get("owner"), people, {
      ...{ visitorId: personId, newId: shop.numbers.id(), name: "", role: "bench", fault: "" },
      ...says,
    });
    return await makerPage(shop, c, "shop", "maker-people", model);
  }

  const idOf = (c: SignedContext) => c.req.param("id") ?? "";

  return new Hono<Signed>()
    .get("/", async (c) => c.html(await show(c)))
    .post("/", async (c) => {
      const form = await readForm(c);
      const [id, typed] = [textOf(form, "id"), textOf(form, "name")];
      if (!isDrawnId(id)) throw notWhole();
      const name = readName(typed);
      const role = textOf(form, "role") === "owner" ? "owner" : "bench";
      if (!name) {
        const fault = `Type ${NAME_ASKED} for whoever you invite.`;
        return c.html(await show(c, { name: typed, role, fault }), 422);
      }
      // Shown in the answer itself: only its hash is kept, so no later page could show the link.
      const link = await invite(shop, c.get("visit"), { id, name, role });
      return c.html(await show(c, { link: { link, name } }));
    })
    .post("/:id/link", async (c) => {
      const { link, person } = await inviteAgain(shop, c.get("visit"), idOf(c));
      return c.html(await show(c, { link: { link, name: person.name } }));
    })
    .post("/:id/role", async (c) => {
      const role = textOf(await readForm(c), "role");
      if (role !== "owner" && role !== "bench") throw notWhole();
      await changeRole(shop, c.get("visit"), idOf(c), role);
      return c.redirect(idOf(c) === c.get("visit").personId ? "/maker" : HERE, 303);
    })
    .post("/:id/remove", async (c) => {
      await removePerson(shop, c.get("visit"), idOf(c));
      return c.redirect(HERE, 303);
    })
    .post("/:id/restore", async (c) => {
      await putPersonBack(shop, c.get("visit"), idOf(c));
      return c.redirect(HERE, 303);
    });
}

function notWhole(): Refusal {
  return new Refusal("maker.person.unknown", NOT_WHOLE);
}
