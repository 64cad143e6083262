/**
 * The Worker as it would be deployed: bundled by wrangler itself, run in workerd over a D1 and its files.
 */
import { execFileSync } from "node:child_process";
import { mkdtempSync, readFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { Miniflare } from "miniflare";
import { issueSignInLink } from "#service/actions/sign-in.ts";
import { randomNumbers, systemClock } from "#service/numbers.ts";
import { makeKeys } from "#service/seals.ts";
import { type D1Binding, openD1Database } from "#service/storage/d1-database.ts";
import { seedDemo } from "#service/storage/seed.ts";
import { signInsIn } from "#service/storage/sign-ins.ts";
import { COMPATIBILITY_DATE, migrate } from "./local-d1.ts";

const ROOT = join(import.meta.dirname, "..", "..");
const URL_OF_SHOP = "http://shop.test";

export interface Metafile {
  readonly inputs: Readonly<Record<string, unknown>>;
  readonly outputs: Readonly<Record<string, { readonly imports: readonly unknown[] }>>;
}

/** `wrangler deploy --dry-run`, without a network. */
export function bundleWorker(): { readonly text: string; readonly meta: Metafile } {
  const out = mkdtempSync(join(tmpdir(), "softset-bundle-"));
  const wrangler = join(ROOT, "node_modules/wrangler/bin/wrangler.js");
  const nowhere = "http://127.0.0.1:9"; // nothing listens there, so a call to anywhere fails
  execFileSync(
    process.execPath,
    [wrangler, "deploy", "--dry-run", "--outdir", out, "--metafile", join(out, "meta.json")],
    {
      cwd: ROOT,
      stdio: "pipe",
      env: { ...process.env, CI: "1", HTTPS_PROXY: nowhere, HTTP_PROXY: nowhere },
    },
  );
  return {
    text: readFileSync(join(out, "edge.js"), "utf8"),
    meta: JSON.parse(readFileSync(join(out, "meta.json"), "utf8")) as Metafile,
  };
}

/**
 * Run a bundled Worker with the demo shop in its database.
 * @param url address of the shop; passkeys need https or localhost
 * @param more variables and secrets
 */
export async function startWorker(
  script: string,
  url = URL_OF_SHOP,
  more: Readonly<Record<string, string>> = {},
) {
  const runtime = new Miniflare({
    name: "softset",
    modules: true,
    script,
    compatibilityDate: COMPATIBILITY_DATE,
    d1Databases: ["DB"],
    assets: {
      directory: join(ROOT, ".build/assets"),
      binding: "ASSETS",
      routerConfig: { has_user_worker: true, invoke_user_worker_ahead_of_assets: true },
    },
    bindings: { SOFTSET_KEYS: await makeKeys(), SOFTSET_URL: url, ...more },
  });
  const raw = await runtime.getD1Database("DB");
  await migrate(raw);
  const db = openD1Database(raw as D1Binding);
  await seedDemo(db, systemClock.seconds());
  const door = { numbers: randomNumbers, clock: systemClock, signIns: signInsIn(db) };
  return {
    /** The database, as the Worker sees it. */
    db,
    /** What cron does once a minute. @returns how it went, "ok" when nothing was thrown */
    cron: async (): Promise<string> => {
      // Without its types: miniflare's own for a Worker leave this call out.
      const worker = (await runtime.getWorker()) as unknown as {
        scheduled(event: { readonly cron: string }): Promise<{ readonly outcome: string }>;
      };
      return (await worker.scheduled({ cron: "* * * * *" })).outcome;
    },
    link: await issueSignInLink({ ...door, url }, "quillfen"),
    request: (path: string, init: Parameters<Miniflare["dispatchFetch"]>[1] = {}) =>
      runtime.dispatchFetch(new URL(path, url), { redirect: "manual", ...init }),
    close: () => runtime.dispose(),
  };
}
