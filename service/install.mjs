/**
 * Makes sure that what package-lock.json asks for is in node_modules, so that `npm start` and `npm test` are the only
 * commands a new machine needs. Plain Node, because nothing is installed yet when it runs.
 */
import { execFileSync } from "node:child_process";
import { createHash } from "node:crypto";
import { existsSync, readFileSync, writeFileSync } from "node:fs";
import { fileURLToPath } from "node:url";

const ROOT = fileURLToPath(new URL("..", import.meta.url));
const STAMP = `${ROOT}node_modules/.softset-installed`;
const OLDEST_NODE = [20, 19];

/** Install when the lock file or the Node version differs from what was installed last. */
export function installIfNeeded() {
  refuseOldNode();
  const lock = readFileSync(`${ROOT}package-lock.json`);
  const wanted = createHash("sha256").update(lock).update(process.version).digest("hex");
  if (existsSync(STAMP) && readFileSync(STAMP, "utf8") === wanted) return;
  console.log("Installing what the lock file asks for (about two minutes the first time) ...");
  // Scripts are run apart: only the database driver needs one, to compile for this machine.
  npm("ci", "--include=dev", "--ignore-scripts", "--no-audit", "--no-fund", "--loglevel=error");
  npm("rebuild", "better-sqlite3", "--loglevel=error");
  writeFileSync(STAMP, wanted);
}

function npm(...args) {
  execFileSync("npm", args, { cwd: ROOT, stdio: "inherit" });
}

function refuseOldNode() {
  const [major, minor] = process.versions.node.split(".").map(Number);
  if (major > OLDEST_NODE[0] || (major === OLDEST_NODE[0] && minor >= OLDEST_NODE[1])) return;
  console.error(`Node ${OLDEST_NODE.join(".")} or newer is needed; this is ${process.version}.`);
  process.exit(1);
}
