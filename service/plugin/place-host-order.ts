/**
 * A quote that was paid for at a host shop -> a paid order. Judged once more like any other, and one order a quote.
 */
import type { HostOrderRequest } from "#core/wire-host.ts";
import type { QuoteSnapshot } from "#core/wire.ts";
import type { Offers } from "../actions/offer.ts";
import { judgeAgain, openQuote, orderOf, storeOnce } from "../actions/place-order.ts";
import type { Shop } from "../ports.ts";
import { Refusal } from "../problem.ts";
import type { ApiKeyRow } from "../storage/api-keys.ts";
import type { OrderRow } from "../storage/orders.ts";

export interface HostPlaced {
  readonly order: OrderRow;
  /** The same order stood already. */
  readonly repeated: boolean;
}

/**
 * Place a paid order.
 * @param key the host shop's
 * @throws Refusal when the quote was altered, is unknown here, has expired, no longer passes or has another order, or
 *   when what was paid is not its total
 */
export async function placeHostOrder(
  shop: Shop,
  offers: Offers,
  key: ApiKeyRow,
  request: HostOrderRequest,
): Promise<HostPlaced> {
  const { quote, shopId } = await openQuote(shop, request.quote);
  if (shopId !== key.shopId) {
    throw new Refusal("order.quote.unknown", "This quote belongs to another shop than the key.");
  }
  const standing = await shop.orders.byQuote(quote.id);
  if (standing) return { order: same(standing, key, request), repeated: true };
  if (quote.expiresAt <= shop.clock.seconds()) {
    throw new Refusal(
      "order.quote.expired",
      "The quote has expired and nothing was ordered. Ask for a new one, and charge its price.",
    );
  }
  checkPaid(quote, request);
  await judgeAgain(shop, offers, quote);
  return await store(shop, key, request, quote);
}

/** @throws Refusal order.quote.taken when the order came another way, or under another number */
function same(order: OrderRow, key: ApiKeyRow, { hostReference }: HostOrderRequest): OrderRow {
  if (order.apiKeyId === key.id && order.hostReference === hostReference) return order;
  throw new Refusal(
    "order.quote.taken",
    "This quote was used for another order. Nothing was ordered: ask for a new quote.",
  );
}

function checkPaid({ totalMinor, currency }: QuoteSnapshot, { paid }: HostOrderRequest): void {
  if (paid.amountMinor === totalMinor && paid.currency === currency.code) return;
  throw new Refusal(
    "payment.amount.mismatch",
    `The quote is for ${totalMinor} ${currency.code} (minor units), so that is what must have been paid. Nothing was ordered.`,
  );
}

async function store(
  shop: Shop,
  key: ApiKeyRow,
  request: HostOrderRequest,
  quote: QuoteSnapshot,
): Promise<HostPlaced> {
  const { customer, deliverTo, hostReference, language } = request;
  const { order, repeated } = await storeOnce(shop, quote.id, (id, reference) =>
    // Nothing is captured here: the money is the host shop's to give back, so `capturedMinor` stays empty.
    shop.hostOrders.place({
      ...orderOf(quote, key.shopId),
      ...{ id, reference, tillKind: "host", tillKey: `host-${id}` },
      apiKeyId: key.id,
      hostReference,
      customerName: customer?.name ?? null,
      customerEmail: customer?.email ?? null,
      deliverTo: deliverTo ? JSON.stringify(deliverTo) : null,
      language: language ?? null,
      placedAt: shop.clock.seconds(),
    }),
  );
  return { order: repeated ? same(order, key, request) : order, repeated };
}
