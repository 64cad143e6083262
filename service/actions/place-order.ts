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

/** Two in a row that are taken are next to impossible; more means something else is wrong. */
const REFERENCES_TRIED = 5;

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
  const { quote, shopId } = await openQuote(shop, token);
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
  const { order, repeated } = await storeOnce(shop, quote.id, (id, reference) =>
    shop.orders.place({ ...orderOf(quote, shopId), id, reference, ...atTill(shop, id) }),
  );
  return { order: await continueOrder(shop, order), repeated };
}

/**
 * @returns what was sealed, and the shop that sealed it
 * @throws Refusal order.quote.altered when it was not sealed here
 */
export async function openQuote(
  shop: Shop,
  token: string,
): Promise<{ readonly quote: QuoteSnapshot; readonly shopId: string }> {
  const sealed = QuoteSnapshotShape.safeParse(await shop.seals.openQuote(token));
  const stored = sealed.success ? await shop.orders.quote(sealed.data.id) : undefined;
  if (!sealed.success || !stored) {
    throw new Refusal(
      "order.quote.altered",
      "This quote was not issued here or has been altered. Please ask for a new price.",
    );
  }
  return { quote: sealed.data, shopId: stored.shopId };
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

/** What an order takes over from its quote. */
export function orderOf(quote: QuoteSnapshot, shopId: string) {
  return {
    shopId,
    quoteId: quote.id,
    snapshot: JSON.stringify(quote),
    totalMinor: quote.totalMinor,
    currency: quote.currency.code,
  };
}

function atTill(shop: Shop, id: string) {
  return {
    state: "placed" as const,
    tillKind: shop.till.kind,
    tillKey: `order-${id}-1`,
    placedAt: shop.clock.seconds(),
  };
}

/**
 * Store an order, once a quote.
 * @param place writes it under an id and a spoken reference that are free
 * @returns the order; repeated when the quote had one already
 * @throws Conflict when it cannot be stored for another reason
 */
export async function storeOnce(
  shop: Shop,
  quoteId: string,
  place: (id: string, reference: string) => Promise<void>,
): Promise<{ readonly order: OrderRow; readonly repeated: boolean }> {
  for (let tries = 1; ; tries++) {
    const id = shop.numbers.id();
    try {
      await place(id, shop.numbers.reference());
      return { order: (await shop.orders.byId(id))!, repeated: false };
    } catch (error) {
      if (!(error instanceof Conflict)) throw error;
      const order = await shop.orders.byQuote(quoteId);
      if (order) return { order, repeated: true }; // a twin request was faster
      // Else the spoken reference was taken, and another is drawn.
      if (tries === REFERENCES_TRIED) throw error;
    }
  }
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
