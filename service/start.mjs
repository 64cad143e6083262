/**
 * `npm start`: install if needed, build if anything changed, then run the shop on this machine.
 */
import { spawn } from "node:child_process";
import { existsSync, readdirSync, statSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { installIfNeeded } from "./install.mjs";

const ROOT = fileURLToPath(new URL("..", import.meta.url));
const SOURCES = ["core", "data", "service", "widget", "package-lock.json"];

installIfNeeded();
if (isStale()) {
  const { buildAll } = await import("./build.mjs");
  console.log("Building ...");
  await buildAll();
}
const service = spawn(process.execPath, ["--enable-source-maps", `${ROOT}.build/service.js`], {
  cwd: ROOT,
  stdio: "inherit",
});
for (const signal of ["SIGINT", "SIGTERM"]) process.on(signal, () => service.kill(signal));
service.on("exit", (code, signal) => process.exit(code ?? (signal ? 0 : 1)));

/** A build is stale when a source is newer than it. */
function isStale() {
  const built = `${ROOT}.build/softset.js`;
  if (!existsSync(built)) return true;
  const builtAt = statSync(built).mtimeMs;
  return SOURCES.some((source) => newest(`${ROOT}${source}`) > builtAt);
}

function newest(path) {
  const stat = statSync(path);
  if (!stat.isDirectory()) return stat.mtimeMs;
  return Math.max(0, ...readdirSync(path).map((name) => newest(`${path}/${name}`)));
}
