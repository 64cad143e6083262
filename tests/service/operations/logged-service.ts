/**
 * The built service with its log on, and all that it ever wrote.
 */
import { spawn } from "node:child_process";
import { fileURLToPath } from "node:url";

const SERVICE = fileURLToPath(new URL("../../../.build/service.js", import.meta.url));

/** Start it and wait until its log says where it is. */
export async function startLogged(database: string) {
  const child = spawn(process.execPath, [SERVICE], {
    env: { ...process.env, PORT: "0", SOFTSET_DATABASE: database, SOFTSET_LOG: "json" },
    stdio: ["ignore", "pipe", "pipe"],
  });
  let written = "";
  const url = await new Promise<string>((resolve, reject) => {
    const take = (chunk: unknown) => {
      written += String(chunk);
      const found = /"url":"([^"]+)"/.exec(written)?.[1];
      if (found) resolve(found);
    };
    child.stdout.on("data", take);
    child.stderr.on("data", take);
    child.once("exit", () => reject(new Error(`the service ended: ${written}`)));
  });
  return {
    url,
    /** End it. @returns everything it wrote, on either stream */
    stop: () =>
      new Promise<string>((resolve) => {
        child.removeAllListeners("exit");
        child.once("close", () => resolve(written));
        child.kill("SIGTERM");
      }),
  };
}
