/**
 * The commands for one of several shops: `--shop` names it, and nothing is done to any other.
 */
import { chmodSync, existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { runCommand } from "#service/commands/run.ts";
import type { Word } from "#service/operations/doctor/word.ts";
import { keptKeys } from "#service/operations/kept-keys.ts";
import { databaseIn, settingsFileIn } from "#service/shops-folder.ts";
import { openTestShop } from "../../helpers/shop.ts";
import { shopsFolder } from "../../helpers/many-shops.ts";

let folder: string;
let before: NodeJS.ProcessEnv;
beforeEach(async () => {
  folder = shopsFolder({ "moss.test": "SOFTSET_MAIL_TO=post@moss.test\n", "lane.test": "" });
  (await openTestShop({}, databaseIn(folder, "moss.test"))).close();
  await keptKeys(databaseIn(folder, "moss.test"));
  before = process.env;
  const ours = /^(SOFTSET|STRIPE)_/;
  process.env = Object.fromEntries(Object.entries(before).filter(([name]) => !ours.test(name)));
  process.env["SOFTSET_SHOPS"] = folder;
});
afterEach(() => {
  process.env = before;
});

const detailOf = ({ stderr }: { readonly stderr: string }) =>
  (JSON.parse(stderr) as { detail: string }).detail;

async function doctor(shop: string) {
  const { status, stdout } = await runCommand(["doctor", "--json", "--shop", shop]);
  const { words } = JSON.parse(stdout) as { words: Word[] };
  const of = (about: string) => words.filter((word) => word.about === about);
  return { status, of };
}

describe("--shop", () => {
  it("says whose database is copied, and where a copy is put back", async () => {
    const copy = join(folder, "copy.db");
    const { status, stdout } = await runCommand(["backup", copy, "--shop", "moss.test"]);
    expect([status, existsSync(copy)]).toEqual([0, true]);
    expect(stdout).toContain(databaseIn(folder, "moss.test"));
    expect((await runCommand(["backup", "--check", copy])).status).toBe(0);
    expect((await runCommand(["restore", copy, "--shop", "lane.test"])).status).toBe(0);
    expect(existsSync(databaseIn(folder, "lane.test"))).toBe(true);
    const again = await runCommand(["restore", copy, "--shop", "lane.test"]);
    expect([again.status, detailOf(again)]).toEqual([2, expect.stringContaining("already")]);
  });

  it("must be said where there are several, of one that is there, and nowhere else", async () => {
    for (const [words, why] of [
      [["doctor"], /several shops here: add --shop/],
      [["backup", "x.db"], /several shops here/],
      [["doctor", "--shop", "../moss.test"], /is no host name/],
      [["backup", "x.db", "--shop", "none.test"], /There is no file/],
      [["doctor", "--shop", "moss.test", "--database", "x"], /not both/],
    ] as const) {
      const ran = await runCommand(words);
      expect([ran.status, detailOf(ran)]).toEqual([2, expect.stringMatching(why)]);
    }
    delete process.env["SOFTSET_SHOPS"];
    const alone = await runCommand(["doctor", "--shop", "moss.test"]);
    expect(detailOf(alone)).toMatch(/where SOFTSET_SHOPS is set/);
  });

  it("lets the doctor read the settings of that shop, and what all share", async () => {
    const moss = await doctor("moss.test");
    expect(moss.of("settings")[0]!.sentence).toMatch(/SOFTSET_MAIL/);
    process.env["SOFTSET_KEYS"] = "hush";
    process.env["PORT"] = "many";
    const lane = await doctor("lane.test");
    expect(lane.status).toBe(1);
    const told = lane.of("settings").map(({ sentence }) => sentence.split(":")[0]);
    expect(told).toEqual(["SOFTSET_KEYS", "PORT"]);
    expect(lane.of("database")[0]).toMatchObject({ state: "look" });
  });

  it("lets the doctor see that others can read its secrets", async () => {
    const file = settingsFileIn(folder, "moss.test");
    expect(readFileSync(file, "utf8")).not.toBe("");
    chmodSync(file, 0o644);
    const told = (await doctor("moss.test")).of("settings").map(({ sentence }) => sentence);
    expect(told.join()).toContain(`chmod 600 ${file}`);
  });
});
