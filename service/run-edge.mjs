/**
 * `npm run edge`: the shop in the runtime of the edge (workerd) over a D1 of its own, on this machine and without an
 * account. Each step is a command that a shop on Cloudflare runs too, there with --remote in place of --local.
 */
import { execFile, spawn } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { createServer } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import { fileURLToPath } from "node:url";
import { promisify } from "node:util";
import { installIfNeeded } from "./install.mjs";

const ROOT = fileURLToPath(new URL("..", import.meta.url));
const WRANGLER = `${ROOT}node_modules/wrangler/bin/wrangler.js`;
/** What a shop of one's own is said by, as with `npm start`, and the options of `softset shop-sql` that take it. */
const OWN_SHOP = {
  SOFTSET_SHOP: "--name",
  SOFTSET_CURRENCY: "--currency",
  SOFTSET_LOCALE: "--locale",
  SOFTSET_COUNTRY: "--country",
  SOFTSET_TIME_ZONE: "--time-zone",
};
const DEMO_SHOP = "quillfen";
const READY_MOST_MS = 60_000;
// CI: no questions. No figures about its use go anywhere, and nothing is asked of Cloudflare.
const QUIET = { CI: "1", WRANGLER_SEND_METRICS: "false", CLOUDFLARE_CF_FETCH_ENABLED: "false" };

/**
 * Bring the database up to date, put a shop into it when it is empty (the demo shop unless one's own is named), and run
 * the Worker.
 * @param {{ port: number, state: string, secrets: string, show: boolean, own?: Record<string, string | undefined> }}
 *   options port 0 draws one; `state` is the folder of the database; `secrets` a file in the way of .dev.vars, made
 *   when there is none; `show` what it logs; `own` the variables that name a shop of one's own
 * @returns the shop's address, a sign-in link for the maker, a word about the shop, and the process, which ends at
 *   SIGTERM
 * @throws when what names the shop cannot be used; nothing is written then
 */
export async function openEdge({ port: wanted, state, secrets, show, own = {} }) {
  const port = await freePort(wanted);
  const url = `http://localhost:${port}`;
  const named = await ownShopSql(own);
  await makeSecrets(secrets);
  const local = ["--local", "--persist-to", state];
  await wrangler("d1", "migrations", "apply", "softset", ...local);
  const { link, note } = await prepareShop(url, local, named);
  const worker = spawn(
    process.execPath,
    [
      ...[WRANGLER, "dev", "--ip", "127.0.0.1", "--port", String(port), "--inspector-port", "0"],
      ...["--persist-to", state, "--env-file", secrets, "--var", `SOFTSET_URL:${url}`],
    ],
    {
      cwd: ROOT,
      env: { ...process.env, ...QUIET },
      stdio: ["ignore", show ? "inherit" : "ignore", "inherit"],
    },
  );
  try {
    await untilOpen(url, worker);
  } catch (error) {
    worker.kill();
    throw error;
  }
  return { url, link, note, worker };
}

/** Secrets only this machine's owner can read; a file that is there is left alone. */
async function makeSecrets(file) {
  const keys = await softset("keys");
  try {
    writeFileSync(file, `SOFTSET_KEYS='${keys.trim()}'\n`, { mode: 0o600, flag: "wx" });
  } catch (error) {
    if (error.code !== "EEXIST") throw error;
  }
}

/** SQL of the shop that the variables name; nothing when they name none. */
async function ownShopSql(own) {
  const said = Object.entries(OWN_SHOP).filter(([variable]) => own[variable]);
  if (said.length === 0) return undefined;
  if (!own.SOFTSET_SHOP) {
    throw new Error(
      `${said[0][0]} is of use only together with SOFTSET_SHOP, the name of your shop.`,
    );
  }
  const options = said.flatMap(([variable, option]) => [option, own[variable]]);
  try {
    return await softset("shop-sql", ...options);
  } catch (error) {
    const { detail } = JSON.parse(error.stderr);
    const inVariables = Object.entries(OWN_SHOP).reduce(
      (words, [variable, option]) => words.replaceAll(`${option}:`, `${variable}:`),
      detail.replace(/ Such as: .*/s, ""),
    );
    throw new Error(`The shop was not made. ${inVariables}`, { cause: error });
  }
}

async function prepareShop(url, local, named) {
  const found = await wrangler(
    ...["d1", "execute", "softset", ...local, "--json"],
    ...["--command", "select id, name from shops limit 1"],
  );
  const [standing] = JSON.parse(found)[0].results;
  const script = standing ? "" : (named ?? (await softset("demo-sql")));
  const [, ownId, taken] = /^-- (\S+)\n-- (.*)\n/.exec(named ?? "") ?? [];
  const id = standing?.id ?? ownId ?? DEMO_SHOP;
  const signIn = await softset("sign-in-sql", id, url);
  const folder = mkdtempSync(join(tmpdir(), "softset-")); // the link in the script opens a door
  try {
    const file = join(folder, "shop.sql");
    writeFileSync(file, script + signIn);
    await wrangler("d1", "execute", "softset", ...local, "--file", file);
  } finally {
    rmSync(folder, { recursive: true });
  }
  return { link: /^-- (\S+)/.exec(signIn)[1], note: noteOn(standing, named, taken) };
}

/** What a person who named a shop should know of the one that is open. */
function noteOn(standing, named, taken) {
  if (!named) return "";
  return standing
    ? `The database holds “${standing.name}” already, so SOFTSET_SHOP changes nothing. To begin anew, delete .wrangler.`
    : `A new shop of your own: ${taken}. All of it can be changed under “Shop”.`;
}

async function softset(...args) {
  const ran = await promisify(execFile)(process.execPath, [`${ROOT}.build/softset.js`, ...args]);
  return ran.stdout;
}

async function wrangler(...args) {
  const options = { cwd: ROOT, env: { ...process.env, ...QUIET } };
  try {
    return (await promisify(execFile)(process.execPath, [WRANGLER, ...args], options)).stdout;
  } catch (error) {
    const said = `${error.stdout}\n${error.stderr}`.trim();
    throw new Error(`wrangler ${args.slice(0, 3).join(" ")} failed:\n${said}`, { cause: error });
  }
}

/** @throws when the port is taken, before another server there could be mistaken for ours */
async function freePort(wanted) {
  const probe = createServer().listen(wanted, "127.0.0.1");
  await new Promise((resolve, reject) => probe.once("listening", resolve).once("error", reject));
  const { port } = probe.address();
  await new Promise((resolve) => probe.close(resolve));
  return port;
}

async function untilOpen(url, worker) {
  for (const end = Date.now() + READY_MOST_MS; Date.now() < end; await pause(100)) {
    if (worker.exitCode !== null) throw new Error("The edge runtime ended before it was ready.");
    const answer = await globalThis.fetch(`${url}/v1/products`).catch(() => undefined);
    if (answer?.ok) return;
    if (answer) throw new Error(`The shop did not open: ${(await answer.json()).detail}`);
  }
  throw new Error("The edge runtime was not ready after a minute.");
}

async function main() {
  installIfNeeded();
  const { buildIfStale } = await import("./build.mjs"); // it needs what was just installed
  await buildIfStale();
  const { url, link, note, worker } = await openEdge({
    port: Number(process.env.PORT ?? 8788),
    state: `${ROOT}.wrangler/state`,
    secrets: `${ROOT}.dev.vars`,
    show: true,
    own: process.env,
  });
  console.log(`
  The shop is open in the runtime of the edge, on this machine.${note === "" ? "" : `\n  ${note}`}

    Shop    ${url}/
    Maker   ${url}/maker
    To sign in as the maker, open this link once, within a day:
            ${link}

  Secrets are in .dev.vars, the database is in .wrangler. Press Ctrl+C to stop. Starting again keeps everything.
`);
  for (const signal of ["SIGINT", "SIGTERM"]) process.on(signal, () => worker.kill());
  worker.on("exit", (code) => process.exit(code ?? 0));
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  await main().catch((error) => {
    const taken = error.code === "EADDRINUSE";
    console.error(
      taken ? "That port is in use. Try another: PORT=8899 npm run edge" : error.message,
    );
    process.exit(1);
  });
}
