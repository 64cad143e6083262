/**
 * A shop of many orders to the edge and back: `softset export`, its statements carried out by D1 in the real runtime on
 * this machine, D1's own export, `softset import`. Fails when anything is not as it was.
 *
 * Without wrangler in between, which does the same: its way to a D1 on one's own machine takes many minutes to find the
 * ends of so many statements, and to a real one it sends the file as it is.
 */
import SQLite from "better-sqlite3";
import { execFile } from "node:child_process";
import { createHash } from "node:crypto";
import { createReadStream, createWriteStream, mkdtempSync, rmSync, statSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { Readable } from "node:stream";
import { pipeline } from "node:stream/promises";
import { promisify } from "node:util";
import { type Inspection, inspectFile } from "#service/operations/inspect.ts";
import { statementsOf } from "#service/operations/sql-statements.ts";
import { rowsByTable } from "#service/storage/sqlite-tables.ts";
import { type RawD1, migrate, startD1 } from "../edge/local-d1.ts";
import { openTestShop } from "../helpers/shop.ts";
import { sendForm } from "../helpers/shop-acts.ts";
import { fillBigShop } from "./big-shop.ts";
import { type Figure, figure, sayNumber } from "./figures.ts";
import type { Options } from "./options.ts";
import { ROOT } from "./processes.ts";

const ORDERS = 50_000;
/** Batches whose record somebody has looked at and written into. */
const RECORDS = 200;
/** Statements that go to D1 at once. */
const SLICE = 100;

/** How long each way takes, and that all of it arrives. @throws when it does not */
export async function moveShop(
  { isQuick }: Options,
  note: (line: string) => void,
): Promise<Figure[]> {
  const [orders, records] = isQuick ? [2000, 10] : [ORDERS, RECORDS];
  const folder = mkdtempSync(join(tmpdir(), "softset-move-"));
  const at = (name: string) => join(folder, name);
  const d1 = await startD1();
  try {
    const shop = at("shop.db");
    await makeShop(shop, orders, records);
    const before = await whole(shop);
    await migrate(d1.raw);
    const seconds = {
      out: await timed(() => softset("export", at("shop.sql"), "--database", shop)),
      in: await timed(() => carryOut(at("shop.sql"), d1.raw)),
      back: await timed(() => writeExport(d1.raw, at("back.sql"))),
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
      figure("that into D1 on this machine", seconds.in, "s"),
      figure("D1’s own export", seconds.back, "s", { more: mb("back.sql") }),
      figure("softset import of that", seconds.home, "s", {
        more: `${mb("back.db")}; every row, the money and ${entries} entries of batch records as they were`,
      }),
    ];
  } finally {
    await d1.close();
    rmSync(folder, { recursive: true, force: true });
  }
}

async function carryOut(file: string, raw: RawD1): Promise<void> {
  let slice: string[] = [];
  const send = async () => {
    await raw.batch(slice.map((statement) => raw.prepare(statement)));
    slice = [];
  };
  for await (const statement of statementsOf(createReadStream(file, "utf8"))) {
    slice.push(statement);
    if (slice.length === SLICE) await send();
  }
  if (slice.length > 0) await send();
}

/** As `wrangler d1 export --local` does it, with the tables. */
async function writeExport(raw: RawD1, file: string): Promise<void> {
  const dump = await raw.prepare("PRAGMA miniflare_d1_export(?,?,?);").bind(0, 0).raw();
  const lines = (dump[0] as string[]).map((line) => `${line}\n`);
  await pipeline(Readable.from(lines), createWriteStream(file));
}

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
