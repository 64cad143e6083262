/**
 * A batch record as a file that stands by itself: how it can be checked, by us or by anybody else, is written in it.
 */
import * as z from "zod";
import {
  type ChainCheck,
  type ChainedEntry,
  type RecordOwner,
  checkChain,
} from "./record-chain.ts";
import { canonicalJson } from "./record-canonical.ts";

const HOW_TO_VERIFY = [
  "Each entry is hashed with SHA-256 over the UTF-8 text of the canonical JSON (RFC 8785) of an object with exactly " +
    "these members of the entry: at, body, by, kind, previousHash, sequence. The hash is written in hexadecimal.",
  "previousHash of an entry is the hash of the entry before it. Before the first entry stands the hash of the " +
    'canonical JSON of {"batch": batch, "shop": shop}, with the values of this file.',
  "sequence counts from 1 without a gap; at is in seconds since 1970-01-01 UTC; masses ending in Mg are in " +
    "milligrams, shares in hundredths of a percent.",
  "The record is unbroken when every hash comes out as it is written and every previousHash fits.",
  "This shows what was altered after it was written. It does not show who wrote it, and a whole record written anew " +
    "shows only against an earlier export or print: the hash of its last entry must be found in the later one.",
  "The command `softset record verify FILE` checks all of this.",
] as const;

const hash = z.string().regex(/^[0-9a-f]{64}$/);

/** Nothing may stand in the file that no hash covers, or it could be read as part of the record. */
const ExportShape = z.strictObject({
  howToVerify: z.array(z.string()),
  record: z.literal("batch"),
  shop: z.string(),
  batch: z.string(),
  head: hash,
  entries: z
    .array(
      z.strictObject({
        sequence: z.int(),
        at: z.number(),
        by: z.string(),
        kind: z.string(),
        body: z.record(z.string(), z.json()),
        previousHash: z.string(),
        hash: z.string(),
      }),
    )
    .max(100_000),
});

/**
 * The export of a record.
 * @param rows as they are stored; a body that cannot be read any more stands as its text, and then breaks the chain
 * @returns JSON text
 */
export function exportRecord(
  { shopId, number }: RecordOwner,
  { head }: Pick<ChainCheck, "head">,
  rows: readonly ChainedEntry[],
): string {
  const entries = rows.map(({ sequence, at, by, kind, body, previousHash, hash: own }) => ({
    ...{ sequence, at, by, kind, body: parsed(body), previousHash, hash: own },
  }));
  const file = {
    ...{ record: "batch", shop: shopId, batch: number, howToVerify: HOW_TO_VERIFY },
    ...{ head, entries },
  };
  return `${JSON.stringify(file, null, 2)}\n`;
}

export interface VerifiedExport extends ChainCheck {
  readonly batch: string;
  /** The head that the file names is not the hash of its last entry. */
  readonly headDiffers: boolean;
}

/**
 * Check an exported record.
 * @param file parsed JSON
 * @returns what does not fit; or why this is no exported record
 */
export async function verifyExport(file: unknown): Promise<VerifiedExport | z.ZodError> {
  const read = ExportShape.safeParse(file);
  if (!read.success) return read.error;
  const { shop: shopId, batch: number, head, entries } = read.data;
  const chained = entries.map(({ body, ...entry }) => ({ ...entry, body: canonicalOf(body) }));
  const check = await checkChain({ shopId, number }, chained);
  return { ...check, batch: number, headDiffers: check.head !== head };
}

/** Canonical text, or one that the check cannot read. */
function canonicalOf(body: unknown): string {
  try {
    return canonicalJson(body);
  } catch {
    return "";
  }
}

function parsed(body: string): unknown {
  try {
    return JSON.parse(body);
  } catch {
    return { unreadable: body };
  }
}
