/**
 * The chain of a batch record: whatever is altered in it, in the database or in an export, is found at its place.
 */
import { createHash } from "node:crypto";
import { describe, expect, it } from "vitest";
import * as z from "zod";
import {
  type ChainedEntry,
  type NewEntry,
  chain,
  checkChain,
  firstHash,
} from "#service/batches/record-chain.ts";
import { type VerifiedExport, exportRecord, verifyExport } from "#service/batches/record-export.ts";

const OWNER = { shopId: "quillfen", number: "261125-01" };
const AT = 1_764_000_000;
const ENTRIES: readonly NewEntry[] = [
  { at: AT, by: "Maya", kind: "issued", body: { batch: OWNER.number, runs: [] } },
  { at: AT + 60, by: "Hand", kind: "note", body: { words: "Rained €\u2028all day" } },
  { at: AT + 60, by: "Hand", kind: "note", body: { words: "Rained €\u2028all day" } },
  { at: AT + 90, by: "Maya", kind: "release", body: { decision: "held", because: "wait" } },
];

const record = async () => await chain({ sequence: 0, hash: await firstHash(OWNER) }, ENTRIES);

/** Every field of an entry, altered. */
const ALTERED: { readonly [Field in keyof ChainedEntry]: (value: never) => unknown } = {
  sequence: (value: number) => value + 1,
  at: (value: number) => value - 1,
  by: (value: string) => `${value} `,
  kind: (value: string) => (value === "note" ? "deviation" : "note"),
  body: (value: string) => value.replace("{", '{"0":1,'),
  previousHash: (value: string) => value.replace(/^./, (first) => (first === "0" ? "1" : "0")),
  hash: (value: string) => value.replace(/^./, (first) => (first === "0" ? "1" : "0")),
};

describe("the chain of a record", () => {
  it("is unbroken as it was written, and when more is hung on it", async () => {
    const first = await record();
    const more = await chain(first.at(-1)!, [ENTRIES[1]!]);
    const check = await checkChain(OWNER, [...first, ...more]);
    expect(check).toEqual({ entries: 5, head: more[0]!.hash, faults: [] });
    expect(await checkChain(OWNER, [])).toEqual({
      entries: 0,
      head: await firstHash(OWNER),
      faults: [],
    });
  });

  it("is what another program takes from the words of the export", async () => {
    const [one, two] = await record();
    const sha256 = (text: string) => createHash("sha256").update(text).digest("hex");
    expect(one!.previousHash).toBe(sha256('{"batch":"261125-01","shop":"quillfen"}'));
    const said =
      `{"at":${AT + 60},"body":{"words":"Rained €\u2028all day"},"by":"Hand","kind":"note",` +
      `"previousHash":"${one!.hash}","sequence":2}`;
    expect(two!.hash).toBe(sha256(said));
  });

  const places = ENTRIES.map((_, at) => at);
  const fields = Object.keys(ALTERED) as (keyof ChainedEntry)[];
  it.each(places.flatMap((at) => fields.map((field) => [at + 1, field] as const)))(
    "finds entry %d with another %s",
    async (place, field) => {
      const rows = (await record()).map((row, at) =>
        at === place - 1 ? { ...row, [field]: ALTERED[field](row[field] as never) } : row,
      );
      const { faults } = await checkChain(OWNER, rows);
      expect(faults[0]).toEqual({
        sequence: field === "sequence" ? place + 1 : place,
        fault: "altered",
      });
    },
  );

  it.each([1, 2, 3])("finds that entry %d was taken out", async (place) => {
    const rows = (await record()).filter(({ sequence }) => sequence !== place);
    const { faults } = await checkChain(OWNER, rows);
    expect(faults[0]).toEqual({ sequence: place + 1, fault: "missing-before" });
  });

  it("finds two entries that changed places, also when their words are the same", async () => {
    const [one, two, three, four] = await record();
    const { faults } = await checkChain(OWNER, [one!, three!, two!, four!]);
    expect(faults[0]).toEqual({ sequence: 3, fault: "missing-before" });
  });

  it("finds an entry that was replaced together with its hash", async () => {
    const rows = await record();
    const [forged] = await chain(rows[0]!, [{ ...ENTRIES[1]!, body: { words: "Sunny" } }]);
    const { faults } = await checkChain(OWNER, [rows[0]!, forged!, ...rows.slice(2)]);
    expect(faults).toEqual([{ sequence: 3, fault: "not-linked" }]);
  });

  it("finds a record that was hung on another batch or another shop", async () => {
    const rows = await record();
    for (const owner of [
      { ...OWNER, number: "261125-02" },
      { ...OWNER, shopId: "otherwick" },
    ]) {
      expect((await checkChain(owner, rows)).faults).toEqual([
        { sequence: 1, fault: "not-linked" },
      ]);
    }
  });

  it("finds a body that is no JSON, or is spaced in another way", async () => {
    for (const body of ["{", '{"words": "Rained"}', '{"a":1,"a":2}']) {
      const rows = await record();
      const { faults } = await checkChain(OWNER, [{ ...rows[0]!, body }, ...rows.slice(1)]);
      expect(faults).toEqual([{ sequence: 1, fault: "unreadable" }]);
    }
  });
});

describe("an exported record", () => {
  const exported = async () => {
    const rows = await record();
    const text = exportRecord(OWNER, await checkChain(OWNER, rows), rows);
    return JSON.parse(text) as { head: string; batch: string; entries: Record<string, unknown>[] };
  };
  const verdict = async (file: unknown) => {
    const verified = await verifyExport(file);
    if (verified instanceof z.ZodError) throw verified;
    return verified satisfies VerifiedExport;
  };

  it("says itself how it is checked, and is unbroken", async () => {
    const file = await exported();
    expect(JSON.stringify(file)).toContain("RFC 8785");
    expect(await verdict(file)).toMatchObject({ entries: 4, faults: [], headDiffers: false });
  });

  it("is found out with its last entry gone, although what is left is unbroken", async () => {
    const file = await exported();
    const { faults, headDiffers } = await verdict({ ...file, entries: file.entries.slice(0, -1) });
    expect([faults, headDiffers]).toEqual([[], true]);
  });

  it.each(["batch", "shop"])("is found out under another %s", async (field) => {
    const file = await exported();
    expect((await verdict({ ...file, [field]: "other" })).faults).toHaveLength(1);
  });

  it("finds every field of every entry altered", async () => {
    const file = await exported();
    for (const [at, entry] of file.entries.entries()) {
      for (const field of Object.keys(entry)) {
        const value = entry[field];
        const changed =
          typeof value === "number"
            ? value + 1
            : typeof value === "string"
              ? value.replace(/^./, (first) => (first === "a" ? "b" : "a"))
              : { ...(value as object), added: true };
        const entries = file.entries.with(at, { ...entry, [field]: changed });
        const { faults } = await verdict({ ...file, entries });
        expect([at, field, faults.length > 0]).toEqual([at, field, true]);
      }
    }
  });

  it("holds nothing that no hash covers", async () => {
    const file = await exported();
    const entries = file.entries.with(0, { ...file.entries[0]!, comment: "released" });
    expect(await verifyExport({ ...file, entries })).toBeInstanceOf(z.ZodError);
    expect(await verifyExport({ ...file, released: true })).toBeInstanceOf(z.ZodError);
    expect(await verifyExport(null)).toBeInstanceOf(z.ZodError);
  });

  it("survives half a character, which no record holds", async () => {
    const file = await exported();
    const entries = file.entries.with(1, { ...file.entries[1]!, body: { words: "\ud83d" } });
    expect((await verdict({ ...file, entries })).faults[0]).toMatchObject({ sequence: 2 });
    const named = file.entries.with(1, { ...file.entries[1]!, by: "\ud83d" });
    expect((await verdict({ ...file, entries: named })).faults[0]).toMatchObject({ sequence: 2 });
  });
});
