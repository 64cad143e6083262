/**
 * Events as Stripe would post them.
 */
import Stripe from "stripe";

/** An event as it would be posted to a webhook endpoint, signed by the SDK itself. */
export async function signEvent(
  event: { id?: string; type: string; livemode?: boolean; object?: string; about?: unknown },
  secret: string,
  signedAtS = Math.floor(Date.now() / 1000),
) {
  const { about, ...rest } = event;
  const payload = JSON.stringify({
    id: "evt_1",
    object: "event",
    api_version: "2026-10-28.endive",
    livemode: false,
    ...rest,
    ...(about === undefined ? {} : { data: { object: about } }),
  });
  const header = await Stripe.webhooks.generateTestHeaderStringAsync({
    payload,
    secret,
    timestamp: signedAtS,
  });
  return { payload, header };
}
