/**
 * What was told and to whom, and where events go; for owners.
 */
import { Hono } from "hono";
import { addEndpoint, endpointOf, rotateSecret, sendTrial } from "../../messages/endpoints.ts";
import { readForm } from "../../middleware.ts";
import { type MessagesSay, messagesPage } from "../../pages/maker-messages.ts";
import type { Shop } from "../../ports.ts";
import { Refusal } from "../../problem.ts";
import type { MessageState } from "../../storage/messages.ts";
import { NOT_WHOLE, isDrawnId } from "../../typed/form-carried.ts";
import { textOf } from "../../typed/text.ts";
import { makerPage } from "./page.ts";
import type { Signed, SignedContext } from "./visit.ts";

const HERE = "/maker/messages";
const ROWS_MOST = 50;
const LATELY_MOST = 20;

export function messageRoutes(shop: Shop) {
  async function show(c: SignedContext, says: Partial<MessagesSay> = {}): Promise<string> {
    const shopId = c.get("shopId");
    const rows = (state: MessageState, most: number) => shop.messages.inState(shopId, state, most);
    const [owner, failed, waiting, sent, dropped, failedCount, waitingCount, endpoints] =
      await Promise.all([
        ...([shop.shops.byId(shopId), rows("failed", ROWS_MOST)] as const),
        ...([rows("waiting", ROWS_MOST), rows("sent", LATELY_MOST)] as const),
        ...([rows("dropped", LATELY_MOST), shop.messages.count(shopId, "failed")] as const),
        ...([shop.messages.count(shopId, "waiting"), shop.eventEndpoints.ofShop(shopId)] as const),
      ]);
    const orderIds = [failed, waiting, sent, dropped]
      .flat()
      .flatMap(({ orderId }) => orderId ?? []);
    const model = messagesPage(
      owner!,
      { failed, waiting, sent, dropped, failedCount, waitingCount, endpoints },
      {
        references: await shop.messages.references(shopId, [...new Set(orderIds)]),
        mailIsSet: shop.senders.mail !== undefined,
        now: shop.clock.seconds(),
        newId: shop.numbers.id(),
        typed: "",
        fault: "",
        ...says,
      },
    );
    return await makerPage(shop, c, "shop", "maker-messages", model);
  }

  async function known(c: SignedContext): Promise<string> {
    const id = c.req.param("id") ?? "";
    if (await shop.messages.byId(c.get("shopId"), id)) return id;
    throw new Refusal("maker.message.unknown", "There is no such message. Nothing was changed.");
  }

  const idOf = (c: SignedContext) => c.req.param("id") ?? "";

  return new Hono<Signed>()
    .get("/", async (c) => c.html(await show(c)))
    .post("/drop-mails", async (c) => {
      await shop.messages.dropWaitingMails(c.get("shopId"));
      return c.redirect(HERE, 303);
    })
    .post("/endpoints", async (c) => {
      const form = await readForm(c);
      const [id, typed] = [textOf(form, "id"), textOf(form, "url")];
      if (!isDrawnId(id)) throw notWhole();
      const added = await addEndpoint(shop, c.get("shopId"), { id, typed });
      if ("fault" in added) return c.html(await show(c, { typed, fault: added.fault }), 422);
      // Shown in the answer itself and nowhere else again.
      return c.html(await show(c, { secret: { ...added, isNew: true } }));
    })
    .post("/endpoints/:id/secret", async (c) => {
      const changed = await rotateSecret(shop, c.get("shopId"), idOf(c));
      return c.html(await show(c, { secret: { ...changed, isNew: false } }));
    })
    .post("/endpoints/:id/trial", async (c) => {
      await sendTrial(shop, c.get("shopId"), idOf(c));
      return c.redirect(HERE, 303);
    })
    .post("/endpoints/:id/off", async (c) => {
      const { id } = await endpointOf(shop, c.get("shopId"), idOf(c));
      await shop.eventEndpoints.switchOff(c.get("shopId"), id);
      return c.redirect(HERE, 303);
    })
    .post("/endpoints/:id/on", async (c) => {
      const { id } = await endpointOf(shop, c.get("shopId"), idOf(c));
      await shop.eventEndpoints.switchOn(c.get("shopId"), id);
      return c.redirect(HERE, 303);
    })
    .post("/:id/again", async (c) => {
      await shop.messages.again(c.get("shopId"), await known(c), shop.clock.seconds());
      return c.redirect(HERE, 303);
    })
    .post("/:id/drop", async (c) => {
      await shop.messages.drop(c.get("shopId"), await known(c));
      return c.redirect(HERE, 303);
    });
}

function notWhole(): Refusal {
  return new Refusal("maker.endpoint.unknown", NOT_WHOLE);
}
