/**
 * The secrets of a shop in a file beside its database, which only its owner can read.
 */
import { chmodSync, existsSync, readFileSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { makeKeys } from "../seals.ts";

/** The keys are none. The message quotes nothing of them. */
export class KeysFault extends Error {
  /** @param file where they were read; nothing when they came from the environment */
  constructor(file: string | undefined) {
    super(
      `${file ?? "SOFTSET_KEYS"} does not hold the keys of a shop, as “softset keys” prints them. Nothing was changed. ` +
        "Put back the keys this shop had: with others, links to orders and quotes that are out stop working.",
    );
  }
}

export const keysFile = (database: string): string => join(dirname(database), "keys.json");

/** The keys that are kept; made at the first start. */
export async function keptKeys(database: string): Promise<string> {
  if (database === ":memory:") return await makeKeys();
  const file = keysFile(database);
  if (!existsSync(file)) {
    writeFileSync(file, await makeKeys(), { mode: 0o600, flag: "wx" });
    chmodSync(file, 0o600);
  }
  return readFileSync(file, "utf8");
}
