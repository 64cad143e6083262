/**
 * A shop with the stand-in for Stripe behind it, and what a test of payments does with them.
 */
import type { OrderAnswer } from "#core/wire.ts";
import { orderEvents, orders } from "#data/schema.ts";
import { reconcile } from "#service/actions/reconcile.ts";
import type { ShopParticulars } from "#service/shapes.ts";
import { setParticulars } from "./shop-acts.ts";
import { openTestShop } from "./shop.ts";
import { signEvent } from "./sign-event.ts";
import { type KeptEvent, startStripeServer } from "./stripe-server.ts";

const SECRET = "whsec_ofTheTests";

/** Two ways to send an order, as a maker sets them. */
export const WAYS: Pick<ShopParticulars, "carriage" | "deliverTo"> = {
  carriage: [
    { id: "post", name: "Post", minor: 395, days: { least: 2, most: 4 } },
    { id: "courier", name: "Courier", minor: 795 },
  ],
  deliverTo: ["GB", "IE"],
};

export type PaidShop = Awaited<ReturnType<typeof openPaidShop>>;

/** @param set what the maker has set besides; carriage, for instance */
export async function openPaidShop(set: Partial<ShopParticulars> = {}, file?: string) {
  const stripe = await startStripeServer();
  const till = { ...stripe.settings, webhookSecrets: [SECRET], timeoutMs: 500 };
  const shop = await openTestShop(till, file);
  await setParticulars(shop, set);

  /** Post an event as the service would, signed. */
  async function hear(event: Pick<KeptEvent, "id" | "type"> & { readonly object: unknown }) {
    const { id, type, object: about } = event;
    const { payload, header } = await signEvent({ id, type, about }, SECRET);
    return shop.request("/v1/payment-events", {
      method: "POST",
      headers: { "stripe-signature": header },
      body: payload,
    });
  }

  return {
    ...shop,
    stripe,
    /** Order what the demo shop starts with. */
    place: async () => {
      const { token } = await shop.quote();
      const answer = await shop.post("/v1/orders", { quote: token });
      if (answer.status > 201) throw new Error(await answer.text());
      const placed = (await answer.json()) as OrderAnswer;
      return { placed, token, session: [...stripe.sessions.keys()].at(-1)! };
    },
    hear,
    /** An event that happened at the service; it is kept there and not posted. */
    happen: (type: string, object: unknown) => {
      const { id } = stripe.keepEvent(type, object);
      return { id, type, object };
    },
    /** One run of the reconciler. */
    reconcile: (most = 40) => reconcile(shop.shop, most),
    now: () => shop.shop.clock.seconds(),
    sessionOf: (id: string) => stripe.sessions.get(id)!.toJson(false),
    order: async () => (await shop.db.q.select().from(orders))[0]!,
    log: async () => (await shop.db.q.select().from(orderEvents)).map(({ what }) => what),
    end: async () => {
      shop.close();
      await stripe.close();
    },
  };
}
