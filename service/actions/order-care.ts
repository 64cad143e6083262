/**
 * What a customer, or the maker for them, may ask of an order: to cancel it before it is made, to have all that is held
 * about it, and to have what is personal taken out.
 */
import type { OrderState } from "#core/order/states.ts";
import type { QuoteSnapshot } from "#core/wire.ts";
import type { Shop } from "../ports.ts";
import { Conflict } from "../storage/database.ts";
import { ERASABLE } from "../storage/order-care.ts";
import type { OrderRow } from "../storage/orders.ts";
import { shopForReader } from "../words/reader.ts";
import { refusalTold } from "../words/refusals.ts";
import { sayIn } from "../words/speak.ts";

/** @throws Refusal order.state.conflict when making has started; asking twice is asking once */
export async function askToCancel(shop: Shop, order: OrderRow): Promise<void> {
  if (order.cancelAskedAt !== null) return;
  try {
    await shop.orderCare.askToCancel(order.id, shop.clock.seconds());
  } catch (error) {
    if (!(error instanceof Conflict)) throw error;
    const now = await shop.orders.byId(order.id);
    if (now?.cancelAskedAt) return;
    throw refusalTold("order.state.conflict", "begun");
  }
}

/**
 * Why particulars cannot be erased yet, in a sentence; nothing when they can, or were.
 * @param locale of whoever reads it
 */
export function tooEarly(state: OrderState, locale: string): string | undefined {
  const told = earlyFor(state);
  return told && sayIn(locale, `refused.${told}`);
}

function earlyFor(state: OrderState): string | undefined {
  if (ERASABLE.includes(state)) return undefined;
  if (state === "placed") return "erase-unpaid";
  return state === "in-making" || state === "made" ? "erase-being-made" : "erase-to-make";
}

/**
 * Take out what is personal; doing it again does nothing.
 * @throws Refusal order.erasure.too-early with a sentence that says what to do
 */
export async function eraseParticulars(
  shop: Shop,
  order: OrderRow,
  who: "customer" | "maker",
): Promise<void> {
  if (order.erasedAt !== null) return;
  const early = earlyFor(order.state);
  if (early) throw refusalTold("order.erasure.too-early", early);
  try {
    await shop.orderCare.erase(order.id, shop.clock.seconds(), who);
  } catch (error) {
    if (!(error instanceof Conflict)) throw error;
    if ((await shop.orders.byId(order.id))?.erasedAt) return;
    throw refusalTold("order.erasure.too-early", "erase-moving");
  }
}

/** All that is held about an order, for whoever it is about. Costs and profit are the maker's and no part of it. */
export async function orderExport(shop: Shop, order: OrderRow, quote: QuoteSnapshot) {
  const [events, refunds, messages, owner] = await Promise.all([
    shop.orders.events(order.id),
    shop.refunds.of(order.id),
    shop.orderCare.messagesOf(order.id),
    shop.shops.byId(order.shopId),
  ]);
  const { reference, state, totalMinor, carriageMinor, capturedMinor, refundedMinor } = order;
  return {
    shop: owner!.name,
    exportedAt: iso(shop.clock.seconds()),
    order: {
      ...{ reference, state, currency: order.currency },
      ...{ totalMinor, carriageMinor, capturedMinor, refundedMinor },
      carriageName: order.carriageName,
      placedAt: iso(order.placedAt),
      paidAt: iso(order.paidAt),
      cancelAskedAt: iso(order.cancelAskedAt),
      erasedAt: iso(order.erasedAt),
      till: order.tillKind,
      tillSession: order.tillSessionId,
      hostReference: order.hostReference,
      language: order.language,
      heldBecause: order.heldBecause,
      disputeState: order.disputeState,
    },
    customer: {
      name: order.customerName,
      email: order.customerEmail,
      deliverTo: order.deliverTo === null ? null : (JSON.parse(order.deliverTo) as unknown),
    },
    quote,
    log: events.map(({ at, who, what }) => ({ at: iso(at), who, what })),
    refunds: refunds.map(({ amountMinor, why, askedAt, state: now, changedAt }) => ({
      ...{ amountMinor, why, state: now, askedAt: iso(askedAt), changedAt: iso(changedAt) },
    })),
    messages: messages.map(({ createdAt, sentAt, ...message }) => ({
      ...message,
      createdAt: iso(createdAt),
      sentAt: iso(sentAt),
    })),
    heldElsewhere: sayIn(shopForReader(owner!, order).locale, `erase.elsewhere-${order.tillKind}`),
  };
}

function iso(seconds: number): string;
function iso(seconds: number | null): string | null;
function iso(seconds: number | null): string | null {
  return seconds === null ? null : new Date(seconds * 1000).toISOString();
}
