import { Hono } from "hono";
import type { Shop } from "../../ports.ts";
import type { Signed } from "./visit.ts";

export function shelfRoutes(_shop: Shop) {
  return new Hono<Signed>();
}
