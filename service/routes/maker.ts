/**
 * The maker's side: a door, and behind it what a maker does in a week.
 */
import { Hono } from "hono";
import { ownPagesOnly, pageHeaders, privatePage } from "../middleware.ts";
import type { Shop } from "../ports.ts";
import { batchRoutes } from "./maker/batches.ts";
import { benchRoutes } from "./maker/bench.ts";
import { doorRoutes } from "./maker/door.ts";
import { kitchenRoutes } from "./maker/kitchen.ts";
import { priceRoutes } from "./maker/prices.ts";
import { orderRoutesOfMaker } from "./maker/orders.ts";
import { productRoutes } from "./maker/products.ts";
import { settingRoutes } from "./maker/settings.ts";
import { shelfRoutes } from "./maker/shelf.ts";
import { traceRoutes } from "./maker/trace.ts";
import { youRoutes } from "./maker/you.ts";
import { type Signed, ownersOnly, signedIn } from "./maker/visit.ts";

export function makerRoutes(shop: Shop) {
  const inside = new Hono<Signed>()
    .use(signedIn(shop))
    .use("/products/*", ownersOnly)
    .use("/prices/*", ownersOnly)
    .use("/shelf/*", ownersOnly)
    .use("/shop/*", ownersOnly)
    .use("/orders/*", ownersOnly)
    .route("/", benchRoutes(shop))
    .route("/orders", orderRoutesOfMaker(shop))
    .route("/batches", batchRoutes(shop))
    .route("/trace", traceRoutes(shop))
    .route("/kitchen", kitchenRoutes(shop))
    .route("/", priceRoutes(shop))
    .route("/products", productRoutes(shop))
    .route("/shelf", shelfRoutes(shop))
    .route("/you", youRoutes(shop))
    .route("/shop", settingRoutes(shop));
  return new Hono()
    .use(pageHeaders, privatePage, ownPagesOnly(new URL(shop.url).origin))
    .route("/", doorRoutes(shop))
    .route("/", inside);
}
