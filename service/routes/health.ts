/**
 * For whoever watches over the shop: is it alive, can it do its work.
 */
import { Hono } from "hono";
import { type Readiness, readinessOf } from "../operations/readiness.ts";
import type { Shop } from "../ports.ts";

/** An answer is good for so long, so that nobody keeps the disk busy by asking [s] */
const LOOKED_AT_EVERY_S = 5;

/** `/healthz`: the process answers. Nothing is looked at, so that a database in trouble gets nobody restarted. */
export function livenessRoutes() {
  return new Hono().get("/healthz", (c) => {
    c.header("cache-control", "no-store");
    return c.json({ alive: true });
  });
}

/** The same, and `/readyz`: 200 when the shop can do its work, 503 with what stands in its way when not. */
export function healthRoutes(shop: Pick<Shop, "db" | "clock" | "seals">) {
  let last: { readonly at: number; readonly found: Readiness } | undefined;
  return livenessRoutes().get("/readyz", async (c) => {
    const now = shop.clock.seconds();
    // A clock that jumped back makes the last look older than none.
    if (!last || now - last.at >= LOOKED_AT_EVERY_S || now < last.at) {
      last = { at: now, found: await readinessOf(shop) };
    }
    const { isReady, checks } = last.found;
    c.header("cache-control", "no-store");
    return c.json({ ready: isReady, checks }, isReady ? 200 : 503);
  });
}
