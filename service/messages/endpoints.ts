/**
 * What an owner does with the addresses that events go to.
 */
import type { Shop } from "../ports.ts";
import { Refusal } from "../problem.ts";
import { Conflict } from "../storage/database.ts";
import type { EndpointRow } from "../storage/event-endpoints.ts";
import { readEndpointUrl } from "./endpoint-address.ts";
import { newEventSecret } from "./event-signature.ts";
import { newMessageId } from "./marks.ts";
import { TRIAL_TYPE } from "./tellings.ts";

/** How long the former secret signs along [s] [C]: a day to bring the new one to the host shop. */
export const ROTATION_S = 24 * 3600;
/** More than this is no shop's need but a slip, and each multiplies every event [C]. */
const ENDPOINTS_MOST = 10;

/**
 * Add an address.
 * @param id drawn for the form, so that one sent twice adds one address
 * @returns the secret, which is shown now and never again, or one sentence that says what to mend
 */
export async function addEndpoint(
  shop: Shop,
  shopId: string,
  { id, typed }: { readonly id: string; readonly typed: string },
): Promise<{ readonly secret: string; readonly url: string } | { readonly fault: string }> {
  const read = readEndpointUrl(typed, shop.senders.events?.mayReachLoopback ?? false);
  if ("fault" in read) return read;
  const standing = await shop.eventEndpoints.ofShop(shopId);
  if (standing.some(({ url, id: other }) => url === read.url || other === id)) {
    return {
      fault: "This address is in the list already. Switch it on there, or give it a new secret.",
    };
  }
  if (standing.length >= ENDPOINTS_MOST) {
    return {
      fault: `At most ${ENDPOINTS_MOST} addresses can be kept. Have one host shop pass events on.`,
    };
  }
  const secret = newEventSecret();
  const createdAt = shop.clock.seconds();
  await shop.eventEndpoints.add({ id, shopId, url: read.url, secret, createdAt });
  return { secret, url: read.url };
}

/** Give an address a new secret; the former one signs along for a day. */
export async function rotateSecret(
  shop: Shop,
  shopId: string,
  id: string,
): Promise<{ readonly secret: string; readonly url: string }> {
  const endpoint = await endpointOf(shop, shopId, id);
  const secret = newEventSecret();
  try {
    await shop.eventEndpoints.rotate(endpoint, secret, shop.clock.seconds() + ROTATION_S);
  } catch (error) {
    if (!(error instanceof Conflict)) throw error;
    throw new Refusal(
      "maker.settings.outdated",
      "Somebody has just changed this secret. Nothing was done twice; please open the page again.",
    );
  }
  return { secret, url: endpoint.url };
}

/** Send an event that says nothing, to see whether an address takes it in. */
export async function sendTrial(shop: Shop, shopId: string, id: string): Promise<void> {
  const endpoint = await endpointOf(shop, shopId, id);
  const now = shop.clock.seconds();
  const messageId = newMessageId(shop);
  const timestamp = new Date(now * 1000).toISOString();
  await shop.messages.add({
    id: messageId,
    shopId,
    kind: "event",
    purpose: TRIAL_TYPE,
    endpointId: endpoint.id,
    body: JSON.stringify({ type: TRIAL_TYPE, timestamp, data: {} }),
    once: `${TRIAL_TYPE}:${messageId}`,
    state: "waiting",
    nextAt: now,
    createdAt: now,
  });
}

/** @throws Refusal maker.endpoint.unknown */
export async function endpointOf(shop: Shop, shopId: string, id: string): Promise<EndpointRow> {
  const endpoint = await shop.eventEndpoints.byId(shopId, id);
  if (!endpoint) {
    throw new Refusal("maker.endpoint.unknown", "There is no such address. Nothing was changed.");
  }
  return endpoint;
}
