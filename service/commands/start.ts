/**
 * `softset start`: the shop of this folder, from the package as it was installed. A process of its own, so that judging
 * a blend never loads a shop.
 */
import { spawn } from "node:child_process";
import { fileURLToPath } from "node:url";

/** Signals by which a service is asked to end. */
const ENDING: readonly NodeJS.Signals[] = ["SIGINT", "SIGTERM"];

/** Run the built service beside this command, with this folder's `.data`. @returns its exit code, once it has ended */
export async function startShopHere(): Promise<number> {
  const service = fileURLToPath(new URL("service.js", import.meta.url));
  const child = spawn(process.execPath, [service], { stdio: "inherit" });
  for (const signal of ENDING) {
    process.on(signal, () => void child.kill(signal));
  }
  return await new Promise((resolve, reject) => {
    child.once("error", reject);
    // Ended by another signal, it has failed, and whoever watches over it must hear so.
    child.once("exit", (code, signal) => resolve(code ?? (ENDING.includes(signal!) ? 0 : 1)));
  });
}
