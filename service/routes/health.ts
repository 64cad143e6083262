/**
 * For whoever watches over the shop: is it alive, can it do its work.
 */
import { Hono } from "hono";
import { keepFor } from "../operations/keep-for.ts";
import { readinessOf } from "../operations/readiness.ts";
import type { Shop } from "../ports.ts";

/** Looking writes to the disk, so it is done this often at most; own choice [s] */
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
  const look = keepFor(shop.clock, LOOKED_AT_EVERY_S, () => readinessOf(shop));
  return livenessRoutes().get("/readyz", async (c) => {
    const { isReady, checks } = await look();
    c.header("cache-control", "no-store");
    return c.json({ ready: isReady, checks }, isReady ? 200 : 503);
  });
}
