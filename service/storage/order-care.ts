/**
 * What a customer may ask of an order beyond buying it: to cancel, and to have what is personal taken out while the
 * books stay. Each is one list, with its line in the log.
 */
import type { OrderState } from "#core/order/states.ts";
import { messages, orderEvents, orders, practiceSessions, refunds } from "#data/schema.ts";
import { and, asc, desc, eq, inArray, isNotNull, isNull, like, sql } from "drizzle-orm";
import { type Database, mustHaveChanged, mustHold } from "./database.ts";
import type { OrderRow, Orders } from "./orders.ts";

/** Paid and not begun: before that there is nothing to cancel, and later a jar is already made. */
export const ASKABLE: readonly OrderState[] = ["paid", "held"];
/** Over: nothing is left to be made, sent or paid, so nobody needs to be reached. */
export const ERASABLE: readonly OrderState[] = ["sent", "cancelled", "expired"];
/** More are not shown at once; the rest follow when these are decided. */
const ASKED_MOST = 50;
/** Stands where words were that could name somebody. */
const TAKEN_OUT = "(words taken out)";
/** How a maker's no begins in the log. */
const KEPT_ON = "not cancelled: ";

export function orderCareIn(db: Database, { tell }: Orders) {
  const { q } = db;
  const log = (orderId: string, at: number, who: "customer" | "maker", what: string) =>
    q.insert(orderEvents).values({ orderId, at, who, what });

  return {
    /** @throws Conflict when making has started, or it was asked already */
    askToCancel: async (orderId: string, at: number): Promise<void> =>
      await db.atomic([
        q
          .update(orders)
          .set({ cancelAskedAt: at })
          .where(
            and(
              eq(orders.id, orderId),
              inArray(orders.state, [...ASKABLE]),
              isNull(orders.cancelAskedAt),
            ),
          ),
        ...mustHaveChanged(q),
        log(orderId, at, "customer", "asked to cancel"),
        ...tell([orderId], "cancel-asked", at),
      ]),
    /** The maker says no. @throws Conflict when nobody asks any more */
    keepOn: async (orderId: string, at: number, why: string): Promise<void> =>
      await db.atomic([
        q
          .update(orders)
          .set({ cancelAskedAt: null })
          .where(and(eq(orders.id, orderId), isNotNull(orders.cancelAskedAt))),
        ...mustHaveChanged(q),
        log(orderId, at, "maker", `${KEPT_ON}${why}`),
      ]),
    /** Why the maker said no, the last time; nothing when they never did. */
    keptOnBecause: async (orderId: string): Promise<string | undefined> =>
      (
        await q
          .select({ what: orderEvents.what })
          .from(orderEvents)
          .where(and(eq(orderEvents.orderId, orderId), like(orderEvents.what, `${KEPT_ON}%`)))
          .orderBy(desc(orderEvents.id))
          .limit(1)
      )[0]?.what.slice(KEPT_ON.length),
    /** Orders whose customer waits for a yes or a no, those that asked first. */
    askedToCancel: async (shopId: string): Promise<OrderRow[]> =>
      await q
        .select()
        .from(orders)
        .where(
          and(
            eq(orders.shopId, shopId),
            isNotNull(orders.cancelAskedAt),
            inArray(orders.state, [...ASKABLE]),
          ),
        )
        .orderBy(asc(orders.cancelAskedAt))
        .limit(ASKED_MOST),
    /**
     * Take out who it was: name, address and mail, and words that people wrote. What was sold, what it came to, the tax
     * and the country stay, as the books need them.
     * @throws Conflict when the order is not over, money is still on its way back, or it was erased already
     */
    erase: async (orderId: string, at: number, who: "customer" | "maker"): Promise<void> => {
      const untilColon = sql`substr(what, 1, instr(what, ': ') + 1) || ${TAKEN_OUT}`;
      const ofOrder = eq(orders.id, orderId);
      await db.atomic([
        q
          .update(orders)
          .set({
            customerName: null,
            customerEmail: null,
            deliverTo: sql`case when json_extract(deliver_to, '$.country') is null then null
              else json_object('country', json_extract(deliver_to, '$.country')) end`,
            heldBecause: null,
            cancelAskedAt: null,
            erasedAt: at,
          })
          .where(and(ofOrder, inArray(orders.state, [...ERASABLE]), isNull(orders.erasedAt))),
        ...mustHaveChanged(q),
        ...mustHold(
          q,
          sql`not exists (select 1 from refunds where order_id = ${orderId} and state in ('asked', 'pending'))`,
        ),
        q
          .update(orderEvents)
          .set({ what: untilColon })
          .where(
            and(
              eq(orderEvents.orderId, orderId),
              inArray(orderEvents.who, ["maker", "host"]),
              sql`instr(what, ': ') > 0`,
            ),
          ),
        q.update(refunds).set({ why: TAKEN_OUT }).where(eq(refunds.orderId, orderId)),
        q
          .update(messages)
          .set({ lastFault: null }) // a mail server's fault can quote the address
          .where(eq(messages.orderId, orderId)),
        q
          .update(messages)
          .set({ state: "dropped" })
          .where(
            and(
              eq(messages.orderId, orderId),
              eq(messages.toWhom, "customer"),
              inArray(messages.state, ["waiting", "failed"]),
            ),
          ),
        q
          .update(practiceSessions)
          .set({ document: sql`json_remove(document, '$.customer')` })
          .where(
            sql`${practiceSessions.id} = (select till_session_id from orders where id = ${orderId})`,
          ),
        log(orderId, at, who, "personal particulars erased"),
      ]);
    },
    /** What was told of the order, for its export; never a body. */
    messagesOf: async (orderId: string) =>
      await q
        .select({
          kind: messages.kind,
          purpose: messages.purpose,
          toWhom: messages.toWhom,
          state: messages.state,
          createdAt: messages.createdAt,
          sentAt: messages.sentAt,
        })
        .from(messages)
        .where(eq(messages.orderId, orderId))
        .orderBy(asc(messages.createdAt)),
  };
}
