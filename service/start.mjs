/**
 * `npm start`: install if needed, build if anything changed, then run the shop on this machine.
 */
import { spawn } from "node:child_process";
import { fileURLToPath } from "node:url";
import { installIfNeeded } from "./install.mjs";

const ROOT = fileURLToPath(new URL("..", import.meta.url));

installIfNeeded();
const { buildIfStale } = await import("./build.mjs"); // it needs what was just installed
await buildIfStale();
const service = spawn(process.execPath, ["--enable-source-maps", `${ROOT}.build/service.js`], {
  cwd: ROOT,
  stdio: "inherit",
});
for (const signal of ["SIGINT", "SIGTERM"]) process.on(signal, () => service.kill(signal));
service.on("exit", (code, signal) => process.exit(code ?? (signal ? 0 : 1)));
