/**
 * The chain of a batch record: every entry’s hash is taken over what it says and over the hash of the entry before.
 *
 * hash = SHA-256 in hex of the canonical JSON (RFC 8785) of {at, body, by, kind, previousHash, sequence}. Before the
 * first entry stands the hash of {batch, shop}, so that no chain can be hung on another batch. Whoever can write to the
 * database could write a whole chain anew; that shows only against an export or a print from before.
 */
import type { RecordKind } from "#core/make/batch-record.ts";
import { sha256 } from "../sha256.ts";
import { canonicalJson } from "./record-canonical.ts";

/** Whose record it is. */
export interface RecordOwner {
  readonly shopId: string;
  /** Number of the batch. */
  readonly number: string;
}

/** An entry that is to be written; its time in seconds since 1970, its body anything that JSON can hold. */
export interface NewEntry {
  readonly at: number;
  readonly by: string;
  readonly kind: RecordKind;
  readonly body: object;
}

/** An entry in its place; the body as canonical JSON text. */
export interface ChainedEntry {
  readonly sequence: number;
  readonly at: number;
  readonly by: string;
  readonly kind: string;
  readonly body: string;
  readonly previousHash: string;
  readonly hash: string;
}

export type LinkFault =
  /** What it says does not give its hash. */
  | "altered"
  /** It follows on another entry than the one that stands before it. */
  | "not-linked"
  /** An entry, or more, is missing before it. */
  | "missing-before"
  /** What it says cannot be read, or is not written canonically. */
  | "unreadable";

export interface ChainCheck {
  readonly entries: number;
  /** Hash of the last entry; of the batch’s name when there is none. */
  readonly head: string;
  /** Empty when the chain is unbroken. */
  readonly faults: readonly { readonly sequence: number; readonly fault: LinkFault }[];
}

/** What stands before the first entry. */
export async function firstHash({ shopId, number }: RecordOwner): Promise<string> {
  return await sha256(canonicalJson({ batch: number, shop: shopId }));
}

/** Hang entries on the last one of a record. @param tip its place and hash */
export async function chain(
  tip: Pick<ChainedEntry, "sequence" | "hash">,
  entries: readonly NewEntry[],
): Promise<(ChainedEntry & Pick<NewEntry, "kind">)[]> {
  const chained: (ChainedEntry & Pick<NewEntry, "kind">)[] = [];
  let { sequence, hash: previousHash } = tip;
  for (const { at, by, kind, body } of entries) {
    sequence += 1;
    const hash = await hashOf({ at, body, by, kind, previousHash, sequence });
    chained.push({ sequence, at, by, kind, body: canonicalJson(body), previousHash, hash });
    previousHash = hash;
  }
  return chained;
}

/** Look at every link of a record. @param entries in the order of their places */
export async function checkChain(
  owner: RecordOwner,
  entries: readonly ChainedEntry[],
): Promise<ChainCheck> {
  const faults: { sequence: number; fault: LinkFault }[] = [];
  let before = { sequence: 0, hash: await firstHash(owner) };
  for (const entry of entries) {
    const fault = await faultOf(entry, before);
    if (fault) faults.push({ sequence: entry.sequence, fault });
    before = entry;
  }
  return { entries: entries.length, head: before.hash, faults };
}

async function faultOf(
  { hash, body: text, ...entry }: ChainedEntry,
  before: Pick<ChainedEntry, "sequence" | "hash">,
): Promise<LinkFault | undefined> {
  const body = readBody(text);
  if (body === undefined) return "unreadable";
  const { at, by, kind, previousHash, sequence } = entry;
  const own = await hashOf({ at, body, by, kind, previousHash, sequence }).catch(noHash);
  if (own !== hash) return "altered";
  if (sequence !== before.sequence + 1) return "missing-before";
  return previousHash === before.hash ? undefined : "not-linked";
}

/** What canonical JSON cannot say was never hashed here. */
function noHash(error: unknown): undefined {
  if (error instanceof TypeError) return undefined;
  throw error;
}

/** A stored body; nothing when it is no JSON, or not in the one way of writing. */
function readBody(text: string): unknown {
  try {
    const body: unknown = JSON.parse(text);
    return canonicalJson(body) === text ? body : undefined;
  } catch {
    return undefined;
  }
}

async function hashOf(entry: object): Promise<string> {
  return await sha256(canonicalJson(entry));
}
