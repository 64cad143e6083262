/**
 * What a shop at the edge needs from a machine: its secrets, and SQL for `wrangler d1 execute`.
 */
import { parseArgs } from "node:util";
import { issueSignInLink } from "../actions/sign-in.ts";
import { randomNumbers, systemClock } from "../numbers.ts";
import { type OwnShopField, readOwnShop, sayOwnShop } from "../own-shop.ts";
import { Refusal } from "../problem.ts";
import { makeKeys } from "../seals.ts";
import { createShop } from "../storage/new-shop.ts";
import { seedDemo } from "../storage/seed.ts";
import { signInsIn } from "../storage/sign-ins.ts";
import { writeSql } from "../storage/sql-script.ts";

/** `softset keys`: the secrets of a new shop, one line of text. */
export async function keysCommand(): Promise<string> {
  return `${await makeKeys()}\n`;
}

/** `softset demo-sql`: the demo shop, for a database with no shop in it. */
export async function demoSqlCommand(): Promise<string> {
  return await writeSql((db) => seedDemo(db, systemClock.seconds()));
}

const SHOP_OPTIONS = {
  name: { type: "string" },
  currency: { type: "string" },
  locale: { type: "string" },
  country: { type: "string" },
  "time-zone": { type: "string" },
} as const;

const SHOP_USAGE = 'softset shop-sql --name "My shop" --currency EUR';

/**
 * `softset shop-sql --name NAME --currency CODE`: an empty shop of one's own, for a database with no shop in it. The
 * comments on the first lines name its id and what it was taken to be.
 * @throws Refusal request.command.unusable that lists every fault
 */
export async function shopSqlCommand(rest: readonly string[]): Promise<string> {
  const { "time-zone": timeZone, ...words } = shopOptions(rest);
  const machine = Intl.DateTimeFormat().resolvedOptions().timeZone;
  const read = readOwnShop({ ...words, ...(timeZone === undefined ? {} : { timeZone }) }, machine);
  if ("faults" in read) {
    const option = (field: OwnShopField) => (field === "timeZone" ? "time-zone" : field);
    const faults = read.faults.map(({ field, sentence }) => `--${option(field)}: ${sentence}`);
    throw new Refusal("request.command.unusable", `${faults.join(". ")}. Such as: ${SHOP_USAGE}`);
  }
  const { shop } = read;
  const sql = await writeSql((db) => createShop(db, shop));
  return `-- ${shop.id}\n-- ${sayOwnShop(shop)}\n${sql}`;
}

function shopOptions(rest: readonly string[]) {
  try {
    return parseArgs({ args: [...rest], options: SHOP_OPTIONS, strict: true }).values;
  } catch (error) {
    const { message } = error as Error;
    throw new Refusal("request.command.unusable", `${message}. Such as: ${SHOP_USAGE}`);
  }
}

/**
 * `softset sign-in-sql SHOP URL`: a new sign-in link, in the comment on the first line, and the SQL that makes it good.
 * @throws Refusal request.command.unusable
 */
export async function signInSqlCommand(rest: readonly string[]): Promise<string> {
  const [shopId, address] = rest;
  if (!shopId || !address || rest.length !== 2 || !/^https?:\/\/[^\s/]+\/?$/.test(address)) {
    throw new Refusal(
      "request.command.unusable",
      "Say for which shop and where it is reached: softset sign-in-sql SHOP https://shop.example",
    );
  }
  const url = address.replace(/\/$/, "");
  let link = "";
  const sql = await writeSql(async (db) => {
    const door = { numbers: randomNumbers, clock: systemClock, signIns: signInsIn(db), url };
    link = await issueSignInLink(door, shopId);
  });
  return `-- ${link}\n${sql}`;
}
