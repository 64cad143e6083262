/**
 * D1 in workerd for a test, without a Worker: what a binding does, from a test on Node.
 */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { Miniflare } from "miniflare";
import journal from "#data/migrations/meta/_journal.json" with { type: "json" };
import type { D1Binding } from "#service/storage/d1-database.ts";
import { MIGRATIONS } from "../helpers/shop.ts";

export type RawD1 = Awaited<ReturnType<Miniflare["getD1Database"]>>;

/** The day the runtime's behaviour is frozen at, as `wrangler.toml` has it. */
export const COMPATIBILITY_DATE = "2026-04-01";

/** An empty database in workerd, and what ends it. */
export async function startD1() {
  const runtime = new Miniflare({
    modules: true,
    script: "export default { fetch: () => new Response() };",
    compatibilityDate: COMPATIBILITY_DATE,
    d1Databases: ["DB"],
  });
  const raw = await runtime.getD1Database("DB");
  return { raw, binding: raw as D1Binding, close: () => runtime.dispose() };
}

/** Run the migrations and note them, each with its note as one batch, as wrangler does. */
export async function migrate(raw: RawD1): Promise<void> {
  const notes = "create table d1_migrations (id integer primary key, name text unique not null)";
  await raw.prepare(notes).run();
  for (const { tag } of journal.entries) {
    const text = readFileSync(join(MIGRATIONS, `${tag}.sql`), "utf8");
    const statements = text.split("--> statement-breakpoint").filter((each) => each.trim() !== "");
    const note = raw.prepare("insert into d1_migrations (name) values (?)").bind(`${tag}.sql`);
    await raw.batch([...statements.map((statement) => raw.prepare(statement)), note]);
  }
}
