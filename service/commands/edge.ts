/**
 * What a shop at the edge needs from a machine: its secrets, and SQL for `wrangler d1 execute`.
 */
import { issueSignInLink } from "../actions/sign-in.ts";
import { randomNumbers, systemClock } from "../numbers.ts";
import { Refusal } from "../problem.ts";
import { makeKeys } from "../seals.ts";
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
