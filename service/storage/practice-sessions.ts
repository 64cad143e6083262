/**
 * Where the practice till keeps its sessions.
 */
import { practiceSessions } from "#data/schema.ts";
import { and, eq, sql } from "drizzle-orm";
import * as z from "zod";
import type { PracticeSession, PracticeSessions } from "../tills/practice.ts";
import { CarriageOffersShape, DeliveryAddressShape } from "../shapes.ts";
import type { Database } from "./database.ts";

const ChargeShape = z.object({
  orderId: z.string(),
  reference: z.string(),
  description: z.string(),
  currency: z.string(),
  unitAmountMinor: z.int(),
  quantity: z.int(),
  taxInclusive: z.boolean(),
  taxMinor: z.int().exactOptional(),
  expiresAt: z.coerce.date(),
  successUrl: z.string(),
  cancelUrl: z.string(),
  carriage: CarriageOffersShape.exactOptional(),
  customer: z
    .object({
      name: z.string(),
      email: z.string(),
      carriage: z.int().exactOptional(),
      deliverTo: DeliveryAddressShape.exactOptional(),
    })
    .exactOptional(),
  refunds: z
    .array(z.object({ key: z.string(), ownId: z.string(), minor: z.int() }))
    .exactOptional(),
});

export function practiceSessionsIn({ q }: Database): PracticeSessions {
  return {
    insert: async ({ id, state, ...charge }: PracticeSession) => {
      await q
        .insert(practiceSessions)
        .values({ id, state, document: JSON.stringify(charge) })
        .onConflictDoNothing();
    },
    find: async (id) => {
      const [row] = await q.select().from(practiceSessions).where(eq(practiceSessions.id, id));
      if (!row) return undefined;
      const charge = ChargeShape.parse(JSON.parse(row.document));
      return { ...charge, id: row.id, state: row.state };
    },
    addRefund: async (id, before, refund) => {
      const { document } = practiceSessions;
      const list = JSON.stringify([...before, refund]);
      const changed = await q
        .update(practiceSessions)
        .set({ document: sql`json_set(${document}, '$.refunds', json(${list}))` })
        .where(
          and(
            eq(practiceSessions.id, id),
            sql`coalesce(json_array_length(${document}, '$.refunds'), 0) = cast(${before.length} as integer)`,
          ),
        )
        .returning({ id: practiceSessions.id });
      return changed.length === 1;
    },
    setState: async (id, state, customer) => {
      const who = customer && JSON.stringify(customer);
      const document =
        who && sql`json_set(${practiceSessions.document}, '$.customer', json(${who}))`;
      await q
        .update(practiceSessions)
        .set({ state, ...(document ? { document } : {}) })
        .where(and(eq(practiceSessions.id, id), eq(practiceSessions.state, "open")));
    },
  };
}
