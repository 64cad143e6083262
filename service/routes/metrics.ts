/**
 * `/metrics`: what whoever watches over the shop counts, as OpenMetrics text. On a machine of its own only, because at
 * the edge no memory sees all requests.
 */
import { Hono } from "hono";
import { isSameText } from "../numbers.ts";
import { keepFor } from "../operations/keep-for.ts";
import { OPEN_METRICS, writeMetrics } from "../operations/open-metrics.ts";
import type { RequestCounts } from "../operations/request-counts.ts";
import { shopGauges } from "../operations/shop-gauges.ts";
import type { Shop } from "../ports.ts";

/** Counting goes through every order, so it is done this often at most; own choice [s] */
const COUNTED_EVERY_S = 10;

/**
 * @param token whoever sends it reads the page; to all others there is none, as when nothing is set
 */
export function metricsRoutes(
  { db, clock, log }: Pick<Shop, "db" | "clock" | "log">,
  { families }: RequestCounts,
  token: string | undefined,
) {
  const count = keepFor(clock, COUNTED_EVERY_S, () => shopGauges(db));
  return new Hono().get("/metrics", async (c, next) => {
    const sent = /^Bearer (\S+)$/i.exec(c.req.header("authorization") ?? "")?.[1];
    if (token === undefined || sent === undefined || !isSameText(sent, token)) return next();
    try {
      const gauges = await count();
      return c.body(writeMetrics([...families(), ...gauges]), 200, {
        "content-type": OPEN_METRICS,
        "cache-control": "no-store",
      });
    } catch (error) {
      log({ note: "the shop could not be counted", error: String(error) });
      return c.text("The shop could not be counted; the log says why.\n", 503);
    }
  });
}
