/**
 * Quote -> order -> till: judged once more, stored before anything is asked for, and only one order a quote.
 */
import type { OrderAnswer, QuoteSnapshot } from "#core/wire.ts";
import type { Shop } from "../ports.ts";
import { Refusal } from "../problem.ts";
import { QuoteSnapshotShape } from "../shapes.ts";
import { Conflict } from "../storage/database.ts";
import type { OrderRow } from "../storage/orders.ts";
import { checkCharge } from "../tills/currency.ts";
import {
  type Charge,
  TillKeySpent,
  TillRefusal,
  type TillSession,
  TillUnavailable,
} from "../tills/till.ts";
import { judgeOrderable } from "./judge-choice.ts";
import { type Offers, productOfQuote } from "./offer.ts";
import { frozenQuote } from "./open-order.ts";

/** How long after placing the till closes [s]. Fixed per order, so that a repeated call says the very same thing. */
export const TILL_LIFE_S = 2 * 3600;
/** A till session must stay open at least this long after it is opened [s]. */
const TILL_LEAST_S = 1860;

export interface Placed {
  readonly order: OrderAnswer;
  /** The quote had an order already; this is that one. */
  readonly repeated: boolean;
}

/**
 * Place an order on a quote.
 * @param token sealed quote
 * @throws Refusal when the quote was altered, has expired or no longer passes, or the till cannot be reached; in the
 *   last case the order is stored and asking again continues it
 */
export async function placeOrder(shop: Shop, offers: Offers, token: string): Promise<Placed> {
  const quote = await openQuote(shop, token);
  const standing = await shop.orders.byQuote(quote.id);
  if (standing) return { order: await continueOrder(shop, standing), repeated: true };
  if (quote.expiresAt <= shop.clock.seconds()) {
    throw new Refusal(
      "order.quote.expired",
      "The quote has expired. Your blend is kept: ask for a new price to go on.",
    );
  }
  await judgeAgain(shop, offers, quote);
  checkPayable(quote);
  const row = await storeOrder(shop, quote);
  return { order: await continueOrder(shop, row.order), repeated: row.repeated };
}

/** @throws Refusal order.quote.altered when it was not sealed here */
export async function openQuote(shop: Shop, token: string): Promise<QuoteSnapshot> {
  const sealed = QuoteSnapshotShape.safeParse(await shop.seals.openQuote(token));
  if (!sealed.success || !(await shop.orders.quote(sealed.data.id))) {
    throw new Refusal(
      "order.quote.altered",
      "This quote was not issued here or has been altered. Please ask for a new price.",
    );
  }
  return sealed.data;
}

/** The rules the quote was made under judge it again, with today's figures; a withdrawn product sells nothing. */
export async function judgeAgain(shop: Shop, offers: Offers, quote: QuoteSnapshot): Promise<void> {
  const { ground } = await offers.of(quote.product.id, "now");
  const product = await productOfQuote(shop, quote);
  if (!product) {
    throw new Refusal(
      "order.quote.outdated",
      "The product has changed. Please ask for a new price.",
    );
  }
  judgeOrderable(product, quote.choice, ground);
}

async function storeOrder(
  shop: Shop,
  quote: QuoteSnapshot,
): Promise<{ readonly order: OrderRow; readonly repeated: boolean }> {
  const stored = await shop.orders.quote(quote.id);
  const id = shop.numbers.id();
  try {
    await shop.orders.place({
      id,
      shopId: stored!.shopId,
      reference: shop.numbers.reference(),
      quoteId: quote.id,
      state: "placed",
      snapshot: JSON.stringify(quote),
      totalMinor: quote.totalMinor,
      currency: quote.currency.code,
      tillKind: shop.till.kind,
      tillKey: `order-${id}-1`,
      placedAt: shop.clock.seconds(),
    });
  } catch (error) {
    if (!(error instanceof Conflict)) throw error;
    const order = await shop.orders.byQuote(quote.id);
    if (order) return { order, repeated: true }; // a twin request was faster
    return storeOrder(shop, quote); // the spoken reference was taken: draw another
  }
  return { order: (await shop.orders.byId(id))!, repeated: false };
}

/** What the till would refuse is refused before an order stands that nobody can pay. */
function checkPayable(quote: QuoteSnapshot): void {
  try {
    checkCharge(moneyOf(quote));
  } catch (error) {
    if (!(error instanceof TillRefusal)) throw error;
    const detail = `This cannot be paid: ${error.message}. No order was made; your blend is kept.`;
    throw new Refusal(error.code, detail, { cause: error });
  }
}

/** Open the till for an order that has no session yet; the same key always makes the same session. */
async function continueOrder(shop: Shop, order: OrderRow): Promise<OrderAnswer> {
  const orderUrl = `${shop.url}/orders/${order.id}/${await shop.seals.orderToken(order.id)}`;
  const answer = { reference: order.reference, state: order.state, orderUrl };
  if (order.state !== "placed" || order.pendingSince !== null) return { ...answer, payUrl: null };
  if (order.tillUrl) return { ...answer, payUrl: order.tillUrl };
  const closesAt = order.placedAt + TILL_LIFE_S;
  if (closesAt - shop.clock.seconds() < TILL_LEAST_S) {
    throw new Refusal(
      "order.quote.expired",
      "This order waited too long. Please ask for a new price.",
    );
  }
  try {
    const { id, url } = await openTill(shop, order, orderUrl);
    await shop.orders.setTillSession(order.id, id, url);
    return { ...answer, payUrl: url };
  } catch (error) {
    throw tillProblem(error);
  }
}

async function openTill(shop: Shop, order: OrderRow, orderUrl: string): Promise<TillSession> {
  const charge = chargeOf(order, orderUrl);
  try {
    return await shop.till.open(charge);
  } catch (error) {
    if (!(error instanceof TillKeySpent)) throw error;
    // A session may stand behind the failure that is kept under the key, and must not get a second beside it.
    const lost = { orderId: order.id, idempotencyKey: order.tillKey };
    const found = await shop.till.findSessions([lost], new Date(order.placedAt * 1000));
    const [sessionId] = found.get(order.id) ?? [];
    const session = sessionId === undefined ? undefined : await shop.till.read(sessionId);
    if (session) return session;
    const idempotencyKey = keyAfter(order.tillKey);
    if (!(await shop.orders.setTillKey(order.id, order.tillKey, idempotencyKey))) throw error;
    return await shop.till.open({ ...charge, idempotencyKey });
  }
}

/** The charge of an order, from what was frozen alone: a repeated call says the very same thing. */
function chargeOf(order: OrderRow, orderUrl: string): Charge {
  const quote = frozenQuote(order);
  return {
    orderId: order.id,
    reference: order.reference,
    description: `${quote.product.name}: ${quote.base.name}, ${quote.jar.name} ${quote.jar.fillG} g`,
    ...moneyOf(quote),
    expiresAt: new Date((order.placedAt + TILL_LIFE_S) * 1000),
    successUrl: `${orderUrl}?paid={CHECKOUT_SESSION_ID}`,
    cancelUrl: orderUrl,
    idempotencyKey: order.tillKey,
  };
}

function moneyOf({ currency, jarMinor, quantity, taxMinor, taxOnTop, carriage }: QuoteSnapshot) {
  return {
    currency: currency.code,
    unitAmountMinor: jarMinor,
    quantity,
    taxInclusive: !taxOnTop,
    ...(taxOnTop && taxMinor > 0 ? { taxMinor } : {}),
    ...(carriage ? { carriage } : {}),
  };
}

/** "order-id-2" after "order-id-1". */
function keyAfter(key: string): string {
  const [, stem, attempt] = /^(.*-)(\d+)$/.exec(key)!;
  return `${stem}${Number(attempt) + 1}`;
}

/** A till's failure as a problem; anything else passes through. */
export function tillProblem(error: unknown): unknown {
  if (error instanceof TillRefusal) {
    return new Refusal(error.code, "The payment service refused this order; it is kept.", {
      cause: error,
    });
  }
  if (error instanceof TillUnavailable) {
    const detail = "The payment service cannot be reached. Your order is kept: please try again.";
    const retryAfterS = error.retryAfterS ?? 10;
    return new Refusal("payment.till.unavailable", detail, { cause: error, retryAfterS });
  }
  return error;
}
