/**
 * The outbox: what is to be told, written in the same atomic list as the change it tells of, taken by one sender at a
 * time, and marked afterwards.
 */
import { messages, orders } from "#data/schema.ts";
import { type SQL, and, asc, count, desc, eq, inArray, isNull, lte, or, sql } from "drizzle-orm";
import { type Mail, TELLINGS, type Telling } from "../messages/tellings.ts";
import type { Database, Statement } from "./database.ts";
import { writtenStatement } from "./written-once.ts";

export type MessageRow = typeof messages.$inferSelect;
export type NewMessage = typeof messages.$inferInsert;
export type MessageState = MessageRow["state"];
export type MessageKind = MessageRow["kind"];
export type Messages = ReturnType<typeof messagesIn>;

/** "msg_" and 128 random bits, drawn where the row is made, because how many rows there will be is not known before. */
const DRAWN_ID = sql`'msg_' || lower(hex(randomblob(16)))`;

/** The change a message tells of: the newest line in the order's log, which stands in the same list before it. */
const CHANGE = sql`(select max(id) from order_events where order_id = o.id)`;

/** What is put in when something is told: the orders as a JSON list of ids, and when, in both forms. */
const AT = sql.placeholder("at");
const TIME = sql.placeholder("time");
const NAMED = sql`where o.id in (select value from json_each(${sql.placeholder("ids")}))`;

export function messagesIn(db: Database) {
  const { q } = db;
  let told = 0;

  /** A row for every order that is named; a change that was told already adds nothing. */
  const insertSelect = (id: SQL, columns: readonly SQL[], from: SQL) =>
    writtenStatement(() =>
      q
        .insert(messages)
        .select(
          // Every column in the table's own order, as an insert from a select asks for.
          sql`select ${id}, o.shop_id, o.id, ${sql.join([...columns], sql`, `)},
            'waiting', 0, ${AT}, null, null, ${AT}, null from orders o ${from}`,
        )
        .onConflictDoNothing()
        .prepare(),
    );

  const events = (type: string) => {
    const body = sql`json_object('type', ${type}, 'timestamp', ${TIME}, 'data', json_object(
      'id', o.id, 'reference', o.reference, 'hostReference', o.host_reference, 'state', o.state,
      'totalMinor', o.total_minor, 'refundedMinor', o.refunded_minor, 'currency', o.currency,
      'dispute', o.dispute_state))`;
    const once = sql`${`${type}:`} || ${CHANGE} || ':' || e.id`;
    return insertSelect(
      DRAWN_ID,
      [sql`'event'`, sql`${type}`, sql`null`, sql`e.id`, body, once],
      sql`join event_endpoints e on e.shop_id = o.shop_id and e.off_because is null ${NAMED}`,
    );
  };

  const mail = (type: string, { to, once, whenPending }: Mail) => {
    const change = once === "order" ? sql`o.id` : CHANGE;
    // A host shop writes to its own customers. Without an address nobody can be written to.
    const reachable = sql`and o.till_kind <> 'host' and o.customer_email is not null`;
    // Made of the order where it is told once: a shop that was put back from an earlier copy tells it again under the
    // same id, and who reads it is shown one mail. It ends in hexadecimal digits, as a drawn one does.
    const id = once === "order" ? sql`${`msg_${type}_${to}_`} || o.id` : DRAWN_ID;
    return insertSelect(
      id,
      [
        ...[sql`'mail'`, sql`${type}`, sql`${to}`, sql`null`, sql`null`],
        sql`${`${type}:`} || ${change} || ${`:${to}`}`,
      ],
      sql`${NAMED} ${to === "customer" ? reachable : sql``}
        ${whenPending ? sql`and o.pending_since is not null` : sql``}`,
    );
  };

  const writers = new Map(
    Object.entries(TELLINGS).map(([telling, { type, mails }]) => [
      telling,
      [events(type), ...mails.map((each) => mail(type, each))],
    ]),
  );

  return {
    /**
     * Statements that tell of a change; they stand in its list after the line in the log.
     * @param orderIds orders the change happened to
     * @param at seconds since 1970
     */
    tell: (orderIds: readonly string[], telling: Telling, at: number): Statement[] => {
      told += 1;
      const values = { ids: JSON.stringify(orderIds), at, time: new Date(at * 1000).toISOString() };
      return writers.get(telling)!.map((write) => write(values));
    },
    /** How often something was told since the start: it has risen when there may be something to deliver. */
    told: (): number => told,
    /** Statement that adds a message about no order; one that is there already stays as it is. */
    addStatement: (row: NewMessage): Statement => {
      told += 1;
      return q.insert(messages).values(row).onConflictDoNothing();
    },
    add: async (row: NewMessage): Promise<void> => {
      await q.insert(messages).values(row);
      told += 1;
    },
    /**
     * Take what is due, each for one sender alone until its time is over.
     * @param kinds that can be sent at all
     * @returns those taken, with this attempt counted
     */
    take: async (
      kinds: readonly MessageKind[],
      now: number,
      until: number,
      most: number,
    ): Promise<MessageRow[]> =>
      await q
        .update(messages)
        .set({ takenUntil: until, attempts: sql`attempts + 1` })
        .where(
          inArray(
            messages.id,
            q
              .select({ id: messages.id })
              .from(messages)
              .where(
                and(
                  eq(messages.state, "waiting"),
                  lte(messages.nextAt, now),
                  inArray(messages.kind, [...kinds]),
                  or(isNull(messages.takenUntil), lte(messages.takenUntil, now)),
                ),
              )
              .orderBy(asc(messages.nextAt))
              .limit(most),
          ),
        )
        .returning(),
    /** Statement: it went out. True whoever held it last, so the lease is not asked for. */
    sentStatement: (id: string, at: number): Statement =>
      q
        .update(messages)
        .set({ state: "sent", sentAt: at, takenUntil: null, lastFault: null })
        .where(and(eq(messages.id, id), eq(messages.state, "waiting"))),
    /** Statement: it did not go out. Does nothing once somebody else has taken it or it was dropped. */
    faultStatement: (
      { id, takenUntil }: Pick<MessageRow, "id" | "takenUntil">,
      change: Pick<MessageRow, "state" | "nextAt" | "lastFault">,
    ): Statement =>
      q
        .update(messages)
        .set({ ...change, takenUntil: null })
        .where(
          and(
            eq(messages.id, id),
            eq(messages.state, "waiting"),
            eq(messages.takenUntil, takenUntil!),
          ),
        ),
    byId: async (shopId: string, id: string): Promise<MessageRow | undefined> =>
      (
        await q
          .select()
          .from(messages)
          .where(and(eq(messages.shopId, shopId), eq(messages.id, id)))
      )[0],
    /** Those in a state, the newest first. */
    inState: async (shopId: string, state: MessageState, most: number): Promise<MessageRow[]> =>
      await q
        .select()
        .from(messages)
        .where(and(eq(messages.shopId, shopId), eq(messages.state, state)))
        .orderBy(desc(messages.createdAt))
        .limit(most),
    count: async (shopId: string, state: MessageState): Promise<number> =>
      (
        await q
          .select({ n: count() })
          .from(messages)
          .where(and(eq(messages.shopId, shopId), eq(messages.state, state)))
      )[0]!.n,
    /** References of orders by their id. */
    references: async (shopId: string, ids: readonly string[]): Promise<Map<string, string>> => {
      const named = sql`${orders.id} in (select value from json_each(${JSON.stringify(ids)}))`;
      const rows = await q
        .select({ id: orders.id, reference: orders.reference })
        .from(orders)
        .where(and(sql`+${orders.shopId} = ${shopId}`, named));
      return new Map(rows.map(({ id, reference }) => [id, reference]));
    },
    /** Let one go out again, from its first attempt. */
    again: async (shopId: string, id: string, now: number): Promise<void> => {
      await q
        .update(messages)
        .set({ state: "waiting", attempts: 0, nextAt: now, takenUntil: null })
        .where(
          and(
            eq(messages.shopId, shopId),
            eq(messages.id, id),
            sql`${messages.takenUntil} is null`,
          ),
        );
      told += 1;
    },
    /** Never send it: one that is not sent yet. */
    drop: async (shopId: string, id: string): Promise<void> => {
      await q
        .update(messages)
        .set({ state: "dropped", takenUntil: null })
        .where(
          and(
            eq(messages.shopId, shopId),
            eq(messages.id, id),
            inArray(messages.state, ["waiting", "failed"]),
          ),
        );
    },
    /** Never send the mails that wait; those that are being sent go on. */
    dropWaitingMails: async (shopId: string): Promise<void> => {
      await q
        .update(messages)
        .set({ state: "dropped" })
        .where(
          and(
            eq(messages.shopId, shopId),
            eq(messages.state, "waiting"),
            eq(messages.kind, "mail"),
            isNull(messages.takenUntil),
          ),
        );
    },
  };
}
