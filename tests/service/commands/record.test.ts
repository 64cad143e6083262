import { mkdtempSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { chain, checkChain, firstHash } from "#service/batches/record-chain.ts";
import { exportRecord } from "#service/batches/record-export.ts";
import { runCommand } from "#service/commands/run.ts";

const OWNER = { shopId: "quillfen", number: "261125-01" };

async function exported(): Promise<string> {
  const words = ["Rained", "Stopped"];
  const entries = words.map((each) => ({
    ...{ at: 1_764_000_000, by: "Hand", kind: "note" as const, body: { words: each } },
  }));
  const rows = await chain({ sequence: 0, hash: await firstHash(OWNER) }, entries);
  return exportRecord(OWNER, await checkChain(OWNER, rows), rows);
}

async function verify(text: string) {
  const file = join(mkdtempSync(join(tmpdir(), "softset-")), "record.json");
  writeFileSync(file, text);
  const { status, stdout, stderr } = await runCommand(["record", "verify", file]);
  return { status, told: JSON.parse(stdout || stderr) as Record<string, unknown> };
}

describe("softset record verify", () => {
  it("says that an export is as it was written", async () => {
    const { status, told } = await verify(await exported());
    expect(status).toBe(0);
    expect(told).toMatchObject({ verdict: "unbroken", entries: 2, faults: [], batch: "261125-01" });
  });

  it("names the entry that was altered, and what that means", async () => {
    const { status, told } = await verify((await exported()).replace("Stopped", "Went on"));
    expect(status).toBe(0);
    expect(told).toMatchObject({ verdict: "broken", faults: [{ sequence: 2, fault: "altered" }] });
    expect(JSON.stringify(told)).toContain("Entry 2 was altered after it was written");
  });

  it("says when the end is missing", async () => {
    const file = JSON.parse(await exported()) as { entries: unknown[] };
    const { told } = await verify(JSON.stringify({ ...file, entries: file.entries.slice(0, 1) }));
    expect(told).toMatchObject({
      verdict: "broken",
      sentence: expect.stringContaining("at the end"),
    });
  });

  it.each([
    ["{", "request.body.malformed"],
    ['{"record":"batch"}', "request.body.invalid"],
    ["[]", "request.body.invalid"],
  ])("refuses %s", async (text, code) => {
    const { status, told } = await verify(text);
    expect([status, told["code"]]).toEqual([2, code]);
  });

  it.each([[[]], [["check", "x.json"]], [["verify"]], [["verify", "no-such.json"]]])(
    "is not run for %j",
    async (rest) => {
      const { status, stderr } = await runCommand(["record", ...rest]);
      expect([status, stderr.includes("request.command.unusable")]).toEqual([2, true]);
    },
  );
});
