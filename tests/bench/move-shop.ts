/**
 * A shop of many orders to the edge and back: `softset export`, what wrangler does with the file for D1 (in the real
 * runtime, on this machine), wrangler's own export, `softset import`. Fails when anything is not as it was.
 */
import SQLite from "better-sqlite3";
import { execFile } from "node:child_process";
import { createHash } from "node:crypto";
import { mkdtempSync, rmSync, statSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { promisify } from "node:util";
import { type Inspection, inspectFile } from "#service/operations/inspect.ts";
import { rowsByTable } from "#service/storage/sqlite-tables.ts";
import { MIGRATIONS, openTestShop } from "../helpers/shop.ts";
import { sendForm } from "../helpers/shop-acts.ts";
import { fillBigShop } from "./big-shop.ts";
import { type Figure, figure, sayNumber } from "./figures.ts";
import type { Options } from "./options.ts";
import { ROOT } from "./processes.ts";

const ORDERS = 50_000;
/** Batches whose record somebody has looked at and written into. */
const RECORDS = 200;
const NAME = "softset";
// No questions, and nothing about its use goes anywhere.
const QUIET = { CI: "1", WRANGLER_SEND_METRICS: "false", CLOUDFLARE_CF_FETCH_ENABLED: "false" };

/** How long each way takes, and that all of it arrives. @throws when it does not */
export async function moveShop(
  { isQuick }: Options,
  note: (line: string) => void,
): Promise<Figure[]> {
  const [orders, records] = isQuick ? [2000, 10] : [ORDERS, RECORDS];
  const folder = mkdtempSync(join(tmpdir(), "softset-move-"));
  const at = (name: string) => join(folder, name);
  try {
    const shop = at("shop.db");
    await makeShop(shop, orders, records);
    const before = await whole(shop);
    writeFileSync(at("wrangler.toml"), SETTINGS);
    const seconds = {
      out: await timed(() => softset("export", at("shop.sql"), "--database", shop)),
      tables: await timed(() => d1(folder, "migrations", "apply", NAME, "--local")),
      in: await timed(() => d1(folder, "execute", NAME, "--local", "--yes", "--file", "shop.sql")),
      back: await timed(() => d1(folder, "export", NAME, "--local", "--output", "back.sql")),
      home: await timed(() => softset("import", at("back.sql"), "--database", at("back.db"))),
    };
    const after = await whole(at("back.db"));
    mustBeSame("rows, money and records", told(after), told(before));
    mustBeSame("all that is stored", digestsOf(at("back.db")), digestsOf(shop));
    const entries = before.batchRecords.entries;
    const [money] = before.money;
    note(
      `All there and to the bit: ${sayNumber(orders)} orders, ${money!.paidMinor} paid and ` +
        `${money!.refundedMinor} given back (${money!.currency}, minor units).`,
    );
    const mb = (name: string) => `${sayNumber(statSync(at(name)).size / 2 ** 20)} MB`;
    const of = `${sayNumber(orders)} orders`;
    return [
      figure(`softset export of ${of}`, seconds.out, "s", { more: mb("shop.sql") }),
      figure("into D1 on this machine, by wrangler", seconds.in, "s"),
      figure("out of D1, by wrangler", seconds.back, "s", { more: mb("back.sql") }),
      figure("softset import of that", seconds.home, "s", {
        more: `${mb("back.db")}; every row, the money and ${entries} entries of batch records as they were`,
      }),
    ];
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** wrangler keeps a database beside its settings, so these stand in a folder of their own. */
const SETTINGS = `name = "${NAME}"
compatibility_date = "2026-04-01"
send_metrics = false
[[d1_databases]]
binding = "DB"
database_name = "${NAME}"
database_id = "00000000-0000-0000-0000-000000000000"
migrations_dir = ${JSON.stringify(MIGRATIONS)}
`;

async function makeShop(file: string, orders: number, records: number): Promise<void> {
  (await openTestShop({}, file)).close();
  fillBigShop(file, Math.floor(Date.now() / 1000), orders);
  const shop = await openTestShop({}, file);
  const cookie = await shop.signIn();
  const batches = await shop.shop.batches.page("quillfen", records);
  for (const { number } of batches.filter(({ state }) => state === "made")) {
    const path = `/maker/batches/${number}`;
    const looked = await shop.request(`${path}/record`, { headers: { cookie } });
    const noted = await sendForm(shop, `${path}/notes`, cookie, [
      ["words", `O’Hara's note; ü ${number}`],
    ]);
    if (!looked.ok || noted.status !== 303) throw new Error(`${path} cannot be written into`);
  }
  shop.close();
}

async function whole(file: string): Promise<Inspection> {
  const found = await inspectFile(file);
  if (found.faults.length > 0) throw new Error(found.faults.join(" "));
  return found;
}

function told({ schema, rows, money, batchRecords }: Inspection) {
  return { schema, rows, money, batchRecords };
}

/** A hash of everything in each table. */
function digestsOf(file: string): Record<string, string> {
  const sqlite = new SQLite(file, { readonly: true });
  sqlite.defaultSafeIntegers(true);
  try {
    const tables = [...rowsByTable(sqlite).keys()].map((table) => {
      const hash = createHash("sha256");
      for (const row of sqlite.prepare(`select * from "${table}" order by rowid`).raw().iterate()) {
        hash.update(
          JSON.stringify(row, (_, value: unknown) =>
            typeof value === "bigint" ? `${value}n` : value,
          ),
        );
      }
      return [table, hash.digest("hex")] as const;
    });
    return Object.fromEntries(tables);
  } finally {
    sqlite.close();
  }
}

function mustBeSame(what: string, after: unknown, before: unknown): void {
  const [there, here] = [after, before].map((each) => JSON.stringify(each, null, 1));
  if (there !== here) throw new Error(`${what} differ:\n${here}\nand after both ways\n${there}`);
}

async function timed(work: () => Promise<unknown>): Promise<number> {
  const began = performance.now();
  await work();
  return (performance.now() - began) / 1000;
}

function softset(...words: readonly string[]): Promise<unknown> {
  return promisify(execFile)(process.execPath, [`${ROOT}.build/softset.js`, ...words]);
}

function d1(folder: string, ...words: readonly string[]): Promise<unknown> {
  const wrangler = `${ROOT}node_modules/wrangler/bin/wrangler.js`;
  const options = { cwd: folder, env: { ...process.env, ...QUIET }, maxBuffer: 2 ** 28 };
  return promisify(execFile)(process.execPath, [wrangler, "d1", ...words], options);
}
