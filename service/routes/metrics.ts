/**
 * `/metrics`: what whoever watches over the shop counts, as OpenMetrics text. On a machine of its own only, because at
 * the edge no memory sees all requests.
 */
import { Hono } from "hono";
import { isSameText } from "../numbers.ts";
import { type Family, OPEN_METRICS, writeMetrics } from "../operations/open-metrics.ts";
import type { Ports } from "../ports.ts";

/**
 * @param counted what the page says
 * @param token whoever sends it reads the page; to all others there is none, as when nothing is set
 */
export function metricsRoutes(
  counted: () => Promise<readonly Family[]>,
  log: Ports["log"],
  token: string | undefined,
) {
  return new Hono().get("/metrics", async (c, next) => {
    const sent = /^Bearer (\S+)$/i.exec(c.req.header("authorization") ?? "")?.[1];
    if (token === undefined || sent === undefined || !isSameText(sent, token)) return next();
    try {
      return c.body(writeMetrics(await counted()), 200, {
        "content-type": OPEN_METRICS,
        "cache-control": "no-store",
      });
    } catch (error) {
      log({ note: "the shop could not be counted", error: String(error) });
      return c.text("The shop could not be counted; the log says why.\n", 503);
    }
  });
}
