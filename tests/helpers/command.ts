/**
 * A command of `softset` on a file of its own, in this process: the same function as behind the command line, which
 * `judge.test.ts` starts for real.
 */
import { mkdtempSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { type Ran, runCommand } from "#service/commands/run.ts";

const FILE = join(mkdtempSync(join(tmpdir(), "softset-")), "input.json");

/** @param input written as JSON; a text as it stands */
export async function runOn(command: string, input: unknown): Promise<Ran> {
  writeFileSync(FILE, typeof input === "string" ? input : JSON.stringify(input));
  return await runCommand([command, FILE]);
}
