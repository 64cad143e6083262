/**
 * Stopping a server without cutting an answer short.
 */
import type { Server } from "node:http";

/** An answer that takes longer than this is cut off [ms]. */
const LONGEST_ANSWER_MS = 10_000;

/**
 * Call before the server is asked anything.
 * @returns stops it: takes nothing new, lets the answers under way end, then closes every connection. A browser keeps
 *   some open that it never asks anything on, and those would hold the server for a minute.
 */
export function drainable(server: Server): () => Promise<void> {
  let answering = 0;
  let isStopping = false;
  const hangUp = () => server.closeAllConnections();
  server.on("request", (_request, response) => {
    answering += 1;
    response.once("close", () => {
      answering -= 1;
      if (isStopping && answering === 0) hangUp();
    });
  });
  return () =>
    new Promise((stopped) => {
      isStopping = true;
      const late = setTimeout(hangUp, LONGEST_ANSWER_MS);
      server.close(() => {
        clearTimeout(late);
        stopped();
      });
      if (answering === 0) hangUp();
    });
}
