/**
 * Where the practice till keeps its sessions.
 */
import { practiceSessions } from "#data/schema.ts";
import { and, eq, sql } from "drizzle-orm";
import * as z from "zod";
import type { PracticeSession, PracticeSessions } from "../tills/practice.ts";
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
  customer: z.object({ name: z.string(), email: z.string() }).exactOptional(),
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
