/**
 * Several shops in one process for a test: a folder of theirs, and the real server over it.
 */
import { mkdirSync, mkdtempSync, readFileSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { startManyShops } from "#service/many-shops.ts";
import { settingsFileIn } from "#service/shops-folder.ts";
import { askHost } from "./ask-host.ts";

const BUILT_ASSETS = new URL("../../.build/assets/", import.meta.url);

/** A folder with an empty folder for each shop, and their settings where they have any. */
export function shopsFolder(settings: Readonly<Record<string, string>>): string {
  const folder = mkdtempSync(join(tmpdir(), "softset-shops-"));
  for (const [host, text] of Object.entries(settings)) {
    mkdirSync(join(folder, host));
    if (text) writeFileSync(settingsFileIn(folder, host), text, { mode: 0o600 });
  }
  return folder;
}

/** Start the server over a folder of shops. @param more settings that all share */
export async function runShops(folder: string, more: Readonly<Record<string, string>> = {}) {
  const asset = async (name: string) => new Uint8Array(readFileSync(new URL(name, BUILT_ASSETS)));
  const running = await startManyShops({ PORT: "0", SOFTSET_SHOPS: folder, ...more }, asset);
  return {
    ...running,
    ask: (host: string, path: string, init: RequestInit = {}) =>
      askHost(running.port, host, path, init),
  };
}
