/**
 * A whole purchase, from the quote to money given back, as people and the payment service press and send it: whoever
 * gets no answer tries again, but news of the payment service comes once or not at all.
 */
import { deliverDue } from "#service/messages/deliver.ts";
import { goRound } from "#service/rounds.ts";
import type { OrderAnswer, QuoteAnswer } from "#core/wire.ts";
import { fieldsOn } from "../helpers/form-fields.ts";
import { aQuoteRequest } from "../helpers/shop.ts";
import { signEvent } from "../helpers/sign-event.ts";
import { HOOK_SECRET, SHOP, type World } from "./world.ts";

export const REFUND_MINOR = 500;
/** One fault is met by one more try. */
const TRIES_MOST = 3;
/** A sender's hold on a message is over by then [s] */
export const LEASE_S = 130;

/** @param cookie of the owner, signed in */
export function purchase(world: World, cookie: string) {
  const { app, process } = world;

  const send = (path: string, body: string, headers: Record<string, string>) =>
    Promise.resolve(app.request(`https://shop.example${path}`, { method: "POST", body, headers }));
  const sendJson = (path: string, body: unknown) =>
    send(path, JSON.stringify(body), { "content-type": "application/json" });
  const press = (path: string, fields: [string, string][]) =>
    send(path, new URLSearchParams(fields).toString(), {
      ...{ cookie, "sec-fetch-site": "same-origin", accept: "text/html" },
      "content-type": "application/x-www-form-urlencoded",
    });
  const look = (path: string) =>
    Promise.resolve(
      app.request(new URL(path, "https://shop.example"), {
        headers: { cookie, accept: "text/html" },
      }),
    );

  /** Start the process again if it died. The trouble was met, or is still to come. */
  function goOn(): void {
    if (process.isDead) process.start();
  }

  async function again(what: string, work: () => Promise<Response>): Promise<Response> {
    for (let tries = 1; ; tries++) {
      const answer = await work();
      goOn();
      if (answer.status < 400) return answer;
      if (tries === TRIES_MOST || answer.status < 500) {
        throw new Error(`${what}: ${answer.status} ${await answer.text()}`);
      }
    }
  }

  async function hear(type: string, object: unknown): Promise<void> {
    const { id } = world.stripe().keepEvent(type, object);
    const { payload, header } = await signEvent(
      { id, type, about: object },
      HOOK_SECRET,
      world.now(),
    );
    const answer = await send("/v1/payment-events", payload, { "stripe-signature": header });
    if (answer.ok) world.stripe().deliver(id);
    goOn();
  }

  async function deliver(): Promise<void> {
    await deliverDue(world.shop).catch(() => undefined);
    goOn();
  }

  async function order(): Promise<OrderAnswer> {
    const quoted = await again("quote", () => sendJson("/v1/quotes", aQuoteRequest()));
    const { token } = (await quoted.json()) as QuoteAnswer;
    const placed = await again("order", () => sendJson("/v1/orders", { quote: token }));
    return (await placed.json()) as OrderAnswer;
  }

  async function pay({ orderUrl }: OrderAnswer): Promise<void> {
    const [session, ...others] = world.stripe().sessions.keys();
    if (others.length > 0) throw new Error("two sessions were opened for one order");
    world.stripe().markPaid(session!);
    const record = world.stripe().sessions.get(session!)!;
    await hear("checkout.session.completed", record.toJson(false));
    await again("order page", () => look(orderUrl));
    await deliver();
  }

  /** The maker looks where the order stands, and writes a batch of it unless there is one. */
  async function make(reference: string): Promise<void> {
    const { calm } = world;
    const standing = async () => (await calm.orders.byReference(SHOP, reference))!;
    // An order whose news was lost is not paid yet: the maker waits for the round.
    if ((await standing()).state === "placed") {
      world.pass(300);
      await calmRound(world);
    }
    await again("batch", async () => {
      const { id, batchId } = await standing();
      return batchId ? new Response() : press("/maker/batches", [["order", id]]);
    });
    const batch = (await calm.batches.byId((await standing()).batchId!))!;
    const path = `/maker/batches/${batch.number}/close`;
    await again("close", async () => {
      if ((await calm.batches.byId(batch.id))!.state === "made") return new Response();
      const page = await look(path);
      return page.ok ? press(path, fieldsOn(await page.text())) : page;
    });
    await deliver();
  }

  async function giveBack(reference: string): Promise<void> {
    const fields: [string, string][] = [
      ["id", "00000000-0000-4000-8000-00000000feed"],
      ["amount", (REFUND_MINOR / 100).toFixed(2)],
      ["why", "a cracked lid"],
    ];
    await again("refund", () => press(`/maker/orders/${reference}/refund`, fields));
    const [refund] = world.stripe().refunds;
    if (refund) await hear("refund.created", { ...refund });
  }

  return {
    /** @returns id of the order */
    run: async (): Promise<string> => {
      const placed = await order();
      await pay(placed);
      await make(placed.reference);
      await giveBack(placed.reference);
      return (await world.calm.orders.byReference(SHOP, placed.reference))!.id;
    },
  };
}

/** What the shop does by itself, all being well. */
export async function calmRound(world: World): Promise<void> {
  await goRound(world.calm, { paymentsMost: 40 });
}
