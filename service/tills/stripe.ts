/**
 * The till that takes real money: Stripe's hosted Checkout. The customer is sent there and comes
 * back.
 *
 * Runs in Node and in workerd alike: fetch and Web Crypto only.
 */
import Stripe from "stripe";
import { checkForm } from "./charge-form.ts";
import { checkCharge } from "./currency.ts";
import { readSignedEvent, toTillEvent } from "./stripe-event.ts";
import { throwTillError } from "./stripe-failure.ts";
import { givingBack } from "./stripe-refund.ts";
import { toSessionParams, toTillSession } from "./stripe-session.ts";
import type { Charge, Till } from "./till.ts";

/**
 * The version these parameters were written for; the webhook endpoint must be set to the same one.
 */
const STRIPE_API_VERSION = "2026-10-28.endive";

/**
 * One try may take this long. With two retries and the SDK's pauses (at most 1.5 s) a call ends
 * within 22.5 s.
 */
export const STRIPE_TIMEOUT_MS = 7_000;
export const STRIPE_RETRIES = 2;

/** How far our clock may be from the payment service's when sessions are searched by time [s] */
const CLOCK_SLACK_S = 300;

export interface StripeSettings {
  readonly secretKey: string;
  /** Several are accepted while a secret is being rolled. */
  readonly webhookSecrets: readonly string[];
  /** Another address of the API, for tests. */
  readonly host?: string;
  readonly port?: number;
  readonly protocol?: "http" | "https";
  readonly timeoutMs?: number;
}

export interface StripeTill extends Till {
  readonly kind: "stripe";
}

/** The part of the SDK that is used. */
export type TillClient = Pick<Stripe, "checkout" | "refunds" | "disputes" | "events">;

/** What is read along with a session: how far its payment is, what has gone back of it, how it is sent. */
const EXPAND = ["payment_intent.latest_charge", "shipping_cost.shipping_rate"];
/** Most that is listed of anything at once. */
const PAGE = 100;
const UNDELIVERED_MOST = 500;

/**
 * Make a till from settings that `choose-till.ts` has checked. Does no work until it is used, and
 * keeps no state.
 * @param now the clock by which charges expire and signatures age
 * @param client the SDK; another one in tests
 */
export function createStripeTill(
  settings: StripeSettings,
  now: () => Date = () => new Date(),
  client: TillClient = createClient(settings),
): StripeTill {
  const { sessions } = client.checkout;
  return {
    kind: "stripe",
    live: /^[rs]k_live_/.test(settings.secretKey),

    async open(charge: Charge) {
      checkCharge(charge);
      checkForm(charge, now());
      const { idempotencyKey } = charge;
      const session = await sessions
        .create(toSessionParams(charge), { idempotencyKey })
        .catch(throwTillError);
      return toTillSession(session);
    },

    async read(sessionId) {
      // The id may come from an address bar, and goes into a path.
      if (!/^cs_\w{1,250}$/.test(sessionId)) return undefined;
      const session = await sessions
        .retrieve(sessionId, { expand: EXPAND })
        .catch((error: unknown) => (isMissing(error) ? undefined : throwTillError(error)));
      return session && toTillSession(session);
    },

    async findSessions(orders, since) {
      const wanted = new Set(orders.map(({ orderId }) => orderId));
      const sinceS = Math.floor(since.getTime() / 1000);
      const created = { gte: sinceS - CLOCK_SLACK_S, lte: sinceS + 24 * 3600 + CLOCK_SLACK_S };
      const found = new Map<string, string[]>();
      try {
        for await (const { id, client_reference_id: order } of sessions.list({
          created,
          limit: PAGE,
        })) {
          if (order !== null && wanted.has(order))
            found.set(order, [...(found.get(order) ?? []), id]);
        }
      } catch (error) {
        throwTillError(error);
      }
      return found;
    },

    async close(sessionId) {
      await sessions.expire(sessionId).catch((error: unknown) => {
        // Refused for a session that is over, which is what was wanted.
        if (!(error instanceof Stripe.errors.StripeInvalidRequestError)) throwTillError(error);
      });
    },

    async sessionOfPayment(paymentId) {
      if (!/^\w{1,255}$/.test(paymentId)) return undefined;
      const { data } = await sessions
        .list({ payment_intent: paymentId, limit: 1 })
        .catch((error: unknown) => (isMissing(error) ? { data: [] } : throwTillError(error)));
      return data[0]?.id;
    },

    async event(id) {
      if (!/^evt_\w{1,250}$/.test(id)) return undefined;
      const event = await client.events
        .retrieve(id)
        .catch((error: unknown) => (isMissing(error) ? undefined : throwTillError(error)));
      return event && toTillEvent(JSON.stringify(event));
    },

    async undelivered(since) {
      const created = { gte: Math.floor(since.getTime() / 1000) };
      try {
        const events = await client.events
          .list({ created, delivery_success: false, limit: PAGE })
          .autoPagingToArray({ limit: UNDELIVERED_MOST });
        return events.map((event) => toTillEvent(JSON.stringify(event)));
      } catch (error) {
        throwTillError(error);
      }
    },

    ...givingBack(client),

    readEvent: (rawBody, header) =>
      readSignedEvent(rawBody, header, settings.webhookSecrets, now()),
  };
}

function isMissing(error: unknown): boolean {
  return error instanceof Stripe.errors.StripeError && error.statusCode === 404;
}

function createClient({ secretKey, host, port, protocol, timeoutMs }: StripeSettings): Stripe {
  return new Stripe(secretKey, {
    apiVersion: STRIPE_API_VERSION,
    // Without it a bundler that picks the SDK's Node entry would hang in workerd.
    httpClient: Stripe.createFetchHttpClient(),
    timeout: timeoutMs ?? STRIPE_TIMEOUT_MS,
    maxNetworkRetries: STRIPE_RETRIES,
    telemetry: false,
    ...(host === undefined ? {} : { host }),
    ...(port === undefined ? {} : { port }),
    ...(protocol === undefined ? {} : { protocol }),
  });
}
