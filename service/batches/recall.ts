/**
 * What a trace found, put in the order people ask it in, and the recall list as a table of figures.
 */
import { type Column, writeTable } from "../shelf/table.ts";
import type { ForwardRow, JarAsked } from "../storage/trace.ts";

/** Who may see which customer bought it. */
export type Eyes = "owner" | "bench";

export interface LotTrace {
  readonly lotId: string;
  readonly code: string;
  readonly supplier: string;
  readonly ingredientId: string;
  readonly receivedOn: string;
  readonly bestBefore: string | null;
  readonly blockedBecause: string | null;
  readonly rows: readonly UsedRow[];
  readonly batches: number;
  readonly orders: number;
  readonly jars: number;
}

export interface UsedRow {
  readonly batchNumber: string;
  readonly trial: boolean;
  readonly run: number;
  readonly usedMg: number;
  /** Nothing for a trial, or a run whose orders were all made again. */
  readonly reference: string | null;
  readonly state: string;
  readonly what: string;
  readonly jars: number;
  readonly customerName: string;
  readonly customerEmail: string;
}

/** Rows of one statement -> one entry a lot. @param eyes the bench sees no customers */
export function tracesOf(rows: readonly ForwardRow[], eyes: Eyes): LotTrace[] {
  const byLot = new Map<string, ForwardRow[]>();
  for (const row of rows) byLot.set(row.lotId, [...(byLot.get(row.lotId) ?? []), row]);
  return [...byLot.values()].map((own) => traceOf(own, eyes));
}

function traceOf(own: readonly ForwardRow[], eyes: Eyes): LotTrace {
  const [first] = own;
  const rows = own.flatMap((row) => usedRow(row, eyes));
  const counted = rows.filter(({ reference }) => reference !== null);
  return {
    ...{ lotId: first!.lotId, code: first!.lotCode, supplier: first!.supplier },
    ...{ ingredientId: first!.ingredientId, receivedOn: first!.receivedOn },
    ...{ bestBefore: first!.bestBefore, blockedBecause: first!.blockedBecause },
    rows,
    batches: new Set(rows.map(({ batchNumber }) => batchNumber)).size,
    orders: counted.length,
    jars: counted.reduce((sum, { jars }) => sum + jars, 0),
  };
}

function usedRow(row: ForwardRow, eyes: Eyes): UsedRow[] {
  if (row.batchNumber === null) return []; // nothing was made of the lot yet
  const isOwner = eyes === "owner";
  return [
    {
      batchNumber: row.batchNumber,
      trial: row.kind === "trial",
      run: (row.run ?? 0) + 1,
      usedMg: row.usedMg ?? 0,
      reference: row.reference,
      state: row.orderState?.replace("-", " ") ?? "",
      what: row.productName === null ? "" : `${row.productName}, ${row.jarName} ${row.fillG} g`,
      jars: row.jars ?? 0,
      customerName: (isOwner && row.customerName) || "",
      customerEmail: (isOwner && row.customerEmail) || "",
    },
  ];
}

const COLUMNS: readonly Column[] = [
  { key: "lot", heading: "lot" },
  { key: "supplier", heading: "supplier" },
  { key: "ingredient", heading: "ingredient" },
  { key: "batch", heading: "batch" },
  { key: "run", heading: "run" },
  { key: "order", heading: "order" },
  { key: "state", heading: "state" },
  { key: "what", heading: "what" },
  { key: "jars", heading: "jars" },
];
const PEOPLE: readonly Column[] = [
  { key: "customer", heading: "customer" },
  { key: "email", heading: "e-mail" },
];

/** The recall list of lots as CSV; the bench's has no customers in it. */
export function recallCsv(traces: readonly LotTrace[], eyes: Eyes): string {
  const rows = traces.flatMap((lot) =>
    lot.rows.map((row) => ({
      ...{ lot: lot.code, supplier: lot.supplier, ingredient: lot.ingredientId },
      ...{ batch: row.batchNumber, run: String(row.run), state: row.state, what: row.what },
      order: row.reference ?? (row.trial ? "trial" : ""),
      jars: String(row.jars),
      ...{ customer: row.customerName, email: row.customerEmail },
    })),
  );
  return writeTable(eyes === "owner" ? [...COLUMNS, ...PEOPLE] : COLUMNS, rows);
}

/** What somebody typed from a jar: a batch number, an order's reference, or both. */
export function readJarAsked(typed: string): JarAsked | undefined {
  const words = typed.trim().split(/[\s,;/]+/);
  const batchNumber = words.find((word) => /^\d{6}-\d{2,}$/.test(word));
  const reference = words.find((word) => /^[\dA-Z]{6}$/i.test(word))?.toUpperCase();
  if (batchNumber === undefined && reference === undefined) return undefined;
  return {
    ...(batchNumber === undefined ? {} : { batchNumber }),
    ...(reference === undefined ? {} : { reference }),
  };
}
