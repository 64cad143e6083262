/**
 * The SDK's part that the till uses, straight into the stand-in: what travels is the same, but no HTTP is spoken and
 * nothing is tried twice, so that each call fails when the simulator says so and at no other time.
 */
import qs from "qs";
import Stripe from "stripe";
import type { TillClient } from "#service/tills/stripe.ts";
import { SERVER_KEY, type StripeStandIn } from "../helpers/stripe-stand-in.ts";

/** @param standIn the one of this moment */
export function clientOf(standIn: () => StripeStandIn): TillClient {
  async function ask(method: string, path: string, params: object, key = ""): Promise<unknown> {
    const form = qs.stringify(params);
    const headers = { authorization: `Bearer ${SERVER_KEY}`, "idempotency-key": key };
    const isRead = method === "GET" && form !== "";
    const asked = { method, path: isRead ? `/v1/${path}?${form}` : `/v1/${path}`, headers };
    const { status, body } = await standIn().answer(asked, method === "GET" ? "" : form);
    const read = JSON.parse(body) as { error?: object };
    if (status < 400) return read;
    const raw = { ...read.error, statusCode: status, headers: {} } as never;
    throw status < 500
      ? new Stripe.errors.StripeInvalidRequestError(raw)
      : new Stripe.errors.StripeAPIError(raw);
  }

  const list = (path: string) => (params: object) => {
    const page = ask("GET", path, params) as Promise<{ data: unknown[] }>;
    return Object.assign(page, {
      async *[Symbol.asyncIterator]() {
        yield* (await page).data;
      },
      autoPagingToArray: async () => (await page).data,
    });
  };
  const create =
    (path: string) =>
    (params: object, { idempotencyKey }: { readonly idempotencyKey: string }) =>
      ask("POST", path, params, idempotencyKey);

  const sessions = "checkout/sessions";
  return {
    checkout: {
      sessions: {
        create: create(sessions),
        retrieve: (id: string, params = {}) => ask("GET", `${sessions}/${id}`, params),
        expire: (id: string) => ask("POST", `${sessions}/${id}/expire`, {}),
        list: list(sessions),
      },
    },
    refunds: { create: create("refunds"), list: list("refunds") },
    disputes: { list: list("disputes") },
    events: { retrieve: (id: string) => ask("GET", `events/${id}`, {}), list: list("events") },
  } as unknown as TillClient;
}
