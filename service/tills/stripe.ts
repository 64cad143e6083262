/**
 * The till that takes real money: Stripe's hosted Checkout. The customer is sent there and comes
 * back.
 *
 * Runs in Node and in workerd alike: fetch and Web Crypto only.
 */
import Stripe from "stripe";
import { checkForm } from "./charge-form.ts";
import { checkCharge } from "./currency.ts";
import { readSignedEvent } from "./stripe-event.ts";
import { asTillError } from "./stripe-failure.ts";
import { toSessionParams, toTillSession } from "./stripe-session.ts";
import type { Charge, Till } from "./till.ts";

/**
 * The version these parameters were written for; the webhook endpoint must be set to the same one.
 */
export const STRIPE_API_VERSION = "2026-10-28.endive";

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
  /**
   * Ids of the sessions opened for an order, newest first: the look-up that must come before a new
   * idempotency key is used for a call whose outcome is not known, or whose key is older than 24
   * hours.
   * @param since when the first call for the order was made; sessions of the 24 hours from then on
   *   are searched
   * @throws TillRefusal, TillUnavailable
   */
  findSessions(orderId: string, since: Date): Promise<readonly string[]>;
}

/**
 * Make a till from settings that `choose-till.ts` has checked. Does no work until it is used, and
 * keeps no state.
 * @param now the clock by which charges expire and signatures age
 */
export function createStripeTill(
  settings: StripeSettings,
  now: () => Date = () => new Date(),
): StripeTill {
  const { sessions } = createClient(settings).checkout;
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
      const expand = ["payment_intent.latest_charge"];
      const session = await sessions
        .retrieve(sessionId, { expand })
        .catch((error: unknown) => (isMissing(error) ? undefined : throwTillError(error)));
      return session && toTillSession(session);
    },

    async findSessions(orderId, since) {
      const sinceS = Math.floor(since.getTime() / 1000);
      const created = { gte: sinceS - CLOCK_SLACK_S, lte: sinceS + 24 * 3600 + CLOCK_SLACK_S };
      const found: string[] = [];
      try {
        for await (const session of sessions.list({ created, limit: 100 })) {
          if (session.client_reference_id === orderId) found.push(session.id);
        }
      } catch (error) {
        throwTillError(error);
      }
      return found;
    },

    readEvent: (rawBody, header) =>
      readSignedEvent(rawBody, header, settings.webhookSecrets, now()),
  };
}

function throwTillError(error: unknown): never {
  throw asTillError(error);
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
