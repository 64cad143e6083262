/**
 * Traceability, each question one statement: from a lot to everybody who has a jar of it, and from a jar, an order or
 * a batch to every lot in it.
 */
import { batchLots, batches, lots, orders } from "#data/schema.ts";
import { type SQL, and, asc, eq, sql } from "drizzle-orm";
import type { Database } from "./database.ts";

/** A lot by its id, or every lot that carries a supplier's code. */
export type LotAsked = { readonly lotId: string } | { readonly code: string };

/** A batch, an order, or the jars of one order in one batch. */
export interface JarAsked {
  readonly batchNumber?: string;
  readonly reference?: string;
}

export type Trace = ReturnType<typeof traceIn>;
export type ForwardRow = Awaited<ReturnType<ReturnType<Trace["forwards"]>["all"]>>[number];
export type BackwardRow = Awaited<ReturnType<ReturnType<Trace["backwards"]>["all"]>>[number];

const ofOrderSnapshot = <T>(path: string) =>
  sql<T | null>`json_extract(${orders.snapshot}, ${sql.raw(`'${path}'`)})`;

const LOT = {
  lotId: lots.id,
  lotCode: lots.code,
  supplier: lots.supplier,
  ingredientId: lots.ingredientId,
  receivedOn: lots.receivedOn,
  bestBefore: lots.bestBefore,
  blockedBecause: lots.blockedBecause,
};

const ORDER = {
  reference: orders.reference,
  orderState: orders.state,
  customerName: orders.customerName,
  customerEmail: orders.customerEmail,
  jars: ofOrderSnapshot<number>("$.quantity"),
  jarName: ofOrderSnapshot<string>("$.jar.name"),
  fillG: ofOrderSnapshot<number>("$.jar.fillG"),
  productName: ofOrderSnapshot<string>("$.product.name"),
};

const RUN = { batchNumber: batches.number, kind: batches.kind, closedAt: batches.closedAt };

export function traceIn({ q }: Database) {
  /** The order's own run of the batch; an order from before there were runs is of the first. */
  const orderOfRun = (run: typeof batchLots.run): SQL =>
    sql`${orders.batchId} = ${batchLots.batchId} and coalesce(${orders.batchRun}, 0) = ${run}`;

  return {
    /** Lot -> batches, orders, jars, customers: a row for every order, or one without for a batch of none. */
    forwards: (shopId: string, asked: LotAsked) => {
      const wanted = "lotId" in asked ? eq(lots.id, asked.lotId) : eq(lots.code, asked.code);
      return q
        .select({ ...LOT, ...RUN, run: batchLots.run, usedMg: batchLots.usedMg, ...ORDER })
        .from(lots)
        .leftJoin(batchLots, eq(batchLots.lotId, lots.id))
        .leftJoin(batches, eq(batches.id, batchLots.batchId))
        .leftJoin(orders, orderOfRun(batchLots.run))
        .where(and(eq(lots.shopId, shopId), wanted))
        .orderBy(asc(lots.id), asc(batches.number), asc(batchLots.run), asc(orders.reference));
    },
    /** Jar, order or batch -> every lot: a row for every lot, or one without when none was written down. */
    backwards: (shopId: string, { batchNumber, reference }: JarAsked) => {
      const columns = {
        ...RUN,
        state: batches.state,
        closing: batches.closing,
        run: batchLots.run,
        usedMg: batchLots.usedMg,
        ...LOT,
      };
      if (reference === undefined) {
        return q
          .select({
            ...columns,
            reference: sql<string | null>`null`,
            customerName: sql<string | null>`null`,
            ownRun: sql<number | null>`null`,
          })
          .from(batches)
          .leftJoin(batchLots, eq(batchLots.batchId, batches.id))
          .leftJoin(lots, eq(lots.id, batchLots.lotId))
          .where(and(eq(batches.shopId, shopId), eq(batches.number, batchNumber ?? "")))
          .orderBy(asc(batchLots.run), asc(lots.ingredientId), asc(lots.code));
      }
      return q
        .select({
          ...columns,
          reference: sql<string | null>`${orders.reference}`,
          customerName: orders.customerName,
          ownRun: orders.batchRun,
        })
        .from(orders)
        .innerJoin(batches, eq(batches.id, orders.batchId))
        .leftJoin(
          batchLots,
          sql`${batchLots.batchId} = ${batches.id} and ${batchLots.run} = coalesce(${orders.batchRun}, 0)`,
        )
        .leftJoin(lots, eq(lots.id, batchLots.lotId))
        .where(
          and(
            eq(orders.shopId, shopId),
            eq(orders.reference, reference),
            batchNumber === undefined ? undefined : eq(batches.number, batchNumber),
          ),
        )
        .orderBy(asc(batchLots.run), asc(lots.ingredientId), asc(lots.code));
    },
  };
}
