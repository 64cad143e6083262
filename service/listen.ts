/**
 * A port of this machine, and what answers on it.
 */
import { serve } from "@hono/node-server";
import type { Server } from "node:http";
import { drainable } from "./draining.ts";
import type { Settings } from "./settings.ts";

/** What answers a request; `env` holds the connection it came by. */
export type Answerer = (request: Request, env: object) => Response | Promise<Response>;

/**
 * Listen, and hand over what comes.
 * @param open makes what answers, once the port is known, which the system may have drawn
 * @returns stops it, letting the answers under way end
 * @throws what `open` throws, and what stands against listening; then nothing listens
 */
export async function listen(
  { host, port: wanted }: Pick<Settings, "host" | "port">,
  open: (port: number) => Answerer,
): Promise<() => Promise<void>> {
  return await new Promise((resolve, reject) => {
    let answer: Answerer | undefined;
    const server = serve(
      { fetch: (request, env) => answer!(request, env), hostname: host, port: wanted },
      ({ port }) => {
        try {
          answer = open(port);
          resolve(stop);
        } catch (error) {
          server.close();
          reject(error as Error);
        }
      },
    );
    server.on("error", reject);
    const stop = drainable(server as Server);
  });
}
