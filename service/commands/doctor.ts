/**
 * `softset doctor [--json]`: what is wrong with a shop on a machine of its own, and how to mend it.
 */
import { systemClock } from "../numbers.ts";
import { aboutDatabase } from "../operations/doctor/database.ts";
import type { Word } from "../operations/doctor/word.ts";
import {
  aboutKeys,
  aboutNode,
  aboutSettings,
  aboutSettingsFile,
} from "../operations/doctor/settings.ts";
import { notForAll } from "../shop-lines.ts";
import { urlOfHost } from "../shops-by-host.ts";
import { environmentIn, settingsFileIn } from "../shops-folder.ts";
import { readDatabaseCommand } from "./database-option.ts";
import type { Told } from "./run.ts";
import { jsonText } from "./json-text.ts";

const USAGE = "softset doctor [--json] [--database FILE or --shop HOST]";

/** Shape before colour: the marks are read without any. */
const MARKS = { mend: "!!", look: " ?", well: "ok" } as const;

/**
 * Look through everything; nothing is changed, and the service may be running.
 * @returns a line for each thing, worst first, or JSON; status 1 when there is something to mend
 */
export async function doctorCommand(rest: readonly string[]): Promise<Told> {
  const options = { json: { type: "boolean" } } as const;
  const { database, shop, values } = readDatabaseCommand(rest, USAGE, 0, options);
  const { environment, faults } = settingsOf(shop);
  const { words, settings } = aboutSettings(environment, faults);
  const all = [
    aboutNode(process.version),
    ...words,
    ...(shop === undefined ? [] : aboutSettingsFile(settingsFileIn(shopsFolder(), shop))),
    ...(await aboutKeys(settings?.keys, database)),
    ...(await aboutDatabase(database, systemClock.seconds())),
  ];
  const toMend = all.filter(({ state }) => state === "mend").length;
  const status = toMend > 0 ? 1 : 0;
  const stdout = values["json"]
    ? jsonText({ well: status === 0, words: all })
    : sheetOf(all, toMend);
  return { status, stdout };
}

/** What the settings of a shop are read from; of one among several also what all of them share. */
function settingsOf(shop: string | undefined) {
  if (shop === undefined) return { environment: process.env, faults: [] };
  const { environment, faults } = environmentIn(shopsFolder(), shop, process.env);
  // Where it is reached follows from its name; that the real till asks for https still holds.
  const url = { SOFTSET_URL: urlOfHost(shop, 0) };
  return {
    environment: { ...url, ...environment },
    faults: [...notForAll(process.env), ...faults],
  };
}

const shopsFolder = (): string => process.env["SOFTSET_SHOPS"]!;

function sheetOf(words: readonly Word[], toMend: number): string {
  const lines = (["mend", "look", "well"] as const).flatMap((state) =>
    words
      .filter((word) => word.state === state)
      .map(({ about, sentence }) => `${MARKS[state]}  ${about.padEnd(18)} ${sentence}\n`),
  );
  const end = toMend === 0 ? "The shop can do its work." : `To mend: ${toMend}, marked !!.`;
  return `${lines.join("")}\n${end}\n`;
}
