/**
 * What must be so once everything is settled: no order and no payment lost, each paid order once on the bench, and
 * everything told once. Read from the file itself, not by the shop's own code.
 */
import SQLite from "better-sqlite3";
import type { BatchSheets } from "#service/batches/sheets.ts";
import {
  type Answered,
  type OrderRow,
  arrivedTwice,
  isPaid,
  lostOf,
  readBooks,
  untoldOf,
} from "../helpers/books.ts";
import type { OutsideSeen } from "./outside.ts";

export interface Account {
  readonly orders: number;
  readonly paid: number;
  readonly batches: number;
  readonly messages: number;
  /** Of these, how many arrived more than once under their one id. */
  readonly arrivedTwice: number;
  /** Everything that is wrong, in words. */
  readonly faults: readonly string[];
}

interface Batch {
  readonly id: string;
  readonly work_order: string;
}

/** Work of the bench goes on from paid; everything else that is paid for stands still and is a fault here. */
const GOES_WELL = new Set(["paid", "in-making", "made", "sent"]);

export function accountOf(file: string, answered: Answered, outside: OutsideSeen): Account {
  const sqlite = new SQLite(file, { readonly: true });
  const books = readBooks(sqlite);
  const { orders, messages } = books;
  const batches = sqlite.prepare("select id, work_order from batches").all() as Batch[];
  const integrity = sqlite.pragma("integrity_check", { simple: true });
  sqlite.close();
  const arrived = new Map(outside.arrived);
  const paid = orders.filter(isPaid);
  return {
    ...{ orders: orders.length, paid: paid.length, batches: batches.length },
    ...{ messages: messages.length, arrivedTwice: arrivedTwice(books, arrived) },
    faults: [
      ...(integrity === "ok" ? [] : [`the file is damaged: ${String(integrity)}`]),
      ...lostOf(books, answered),
      ...lostPayments(orders, new Set(outside.paidOrders)),
      ...workOrders(paid, batches),
      ...untoldOf(books, arrived),
    ],
  };
}

/** The payment service's books beside the shop's. */
function lostPayments(orders: readonly OrderRow[], taken: ReadonlySet<string>): string[] {
  return orders
    .filter(({ till_kind: kind }) => kind !== "host")
    .filter((order) => taken.has(order.id) !== isPaid(order))
    .map(({ id, reference }) =>
      taken.has(id) ? `${reference} was paid and is not` : `${reference} is paid and was not`,
    );
}

function workOrders(paid: readonly OrderRow[], batches: readonly Batch[]): string[] {
  const sheets = new Map<string, string[]>();
  for (const { id, work_order: text } of batches) {
    const { runs } = JSON.parse(text) as BatchSheets;
    for (const { reference } of runs.flatMap(({ workOrder }) => workOrder.jars)) {
      sheets.set(reference, [...(sheets.get(reference) ?? []), id]);
    }
  }
  return paid.flatMap(({ reference, state, batch_id: batch }) => {
    const [sheet, ...others] = sheets.get(reference) ?? [];
    if (!GOES_WELL.has(state)) return [`${reference} is paid and stands at ${state}`];
    if (!sheet) return [`${reference} is paid and on no work order`];
    if (others.length > 0) return [`${reference} is on ${others.length + 1} work orders`];
    return sheet === batch ? [] : [`${reference} is on the work order of another batch`];
  });
}
