/**
 * The maker's side: a door, and behind it what a maker does in a week.
 */
import { Hono } from "hono";
import { ownPagesOnly, pageHeaders, privatePage } from "../middleware.ts";
import type { Shop } from "../ports.ts";
import { marginReports } from "../prices/margin-reports.ts";
import { desksOf } from "../products/desk.ts";
import { batchRoutes } from "./maker/batches.ts";
import { benchRoutes } from "./maker/bench.ts";
import { doorRoutes } from "./maker/door.ts";
import { kitchenRoutes } from "./maker/kitchen.ts";
import { messageRoutes } from "./maker/messages.ts";
import { priceRoutes } from "./maker/prices.ts";
import { orderRoutesOfMaker } from "./maker/orders.ts";
import { productRoutes } from "./maker/products.ts";
import { settingRoutes } from "./maker/settings.ts";
import { sentRoutes } from "./maker/sent.ts";
import { shelfRoutes } from "./maker/shelf.ts";
import { traceRoutes } from "./maker/trace.ts";
import { youRoutes } from "./maker/you.ts";
import { type Signed, ownersOnly, signedIn } from "./maker/visit.ts";

export function makerRoutes(shop: Shop) {
  const desks = desksOf(shop);
  const margins = marginReports(shop);
  const inside = new Hono<Signed>()
    .use(signedIn(shop))
    .use("/products/*", ownersOnly)
    .use("/prices/*", ownersOnly)
    .use("/shelf/*", ownersOnly)
    .use("/shop/*", ownersOnly)
    .use("/orders/*", ownersOnly)
    .use("/messages/*", ownersOnly)
    .route("/", benchRoutes(shop, desks, margins))
    .route("/orders", orderRoutesOfMaker(shop))
    .route("/sent", sentRoutes(shop))
    .route("/batches", batchRoutes(shop))
    .route("/trace", traceRoutes(shop))
    .route("/kitchen", kitchenRoutes(shop))
    .route("/", priceRoutes(shop, desks, margins))
    .route("/products", productRoutes(shop, desks))
    .route("/shelf", shelfRoutes(shop, desks))
    .route("/you", youRoutes(shop))
    .route("/messages", messageRoutes(shop))
    .route("/shop", settingRoutes(shop));
  return new Hono()
    .use(pageHeaders, privatePage, ownPagesOnly(new URL(shop.url).origin))
    .route("/", doorRoutes(shop))
    .route("/", inside);
}
