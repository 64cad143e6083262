/**
 * The app: middleware and routes over the ports, the same in Node and at the edge.
 */
import { Hono } from "hono";
import { requestId } from "hono/request-id";
import { offersOf } from "./actions/offer.ts";
import { limitBody, openToOtherPages } from "./middleware.ts";
import { renderPage } from "./pages/render.ts";
import type { Shop } from "./ports.ts";
import { Refusal, problemOf } from "./problem.ts";
import { assetRoutes } from "./routes/assets.ts";
import { composeRoutes } from "./routes/compose.ts";
import { judgeRoutes } from "./routes/judge.ts";
import { makerRoutes } from "./routes/maker.ts";
import { orderRoutes } from "./routes/order.ts";
import { pageRoutes } from "./routes/pages.ts";
import { paymentEventRoutes } from "./routes/payment-events.ts";
import { priceRoutes } from "./routes/price.ts";

/** Build the app. */
export function createApp(shop: Shop): Hono {
  const offers = offersOf(shop);
  const app = new Hono();
  // An id from outside would let a stranger write into the log, so it is always our own.
  app.use(requestId({ headerName: "" }));
  app.use(limitBody);
  app.use("/v1/*", openToOtherPages);
  app.route("/v1", composeRoutes(shop, offers));
  app.route("/v1", judgeRoutes(offers));
  app.route("/v1", priceRoutes(shop, offers));
  app.route("/v1", orderRoutes(shop, offers));
  app.route("/v1", paymentEventRoutes(shop));
  app.route("/assets", assetRoutes(shop));
  app.route("/maker", makerRoutes(shop));
  app.route("/", pageRoutes(shop, offers));
  app.notFound(() => {
    throw new Refusal("request.route.unknown", "There is nothing at this address.");
  });
  app.onError((error, c) => {
    const refusal = error instanceof Refusal ? error : failed(error);
    const id = c.get("requestId");
    if (refusal.status >= 500) {
      const cause = refusal.cause instanceof Error ? (refusal.cause.stack ?? "") : "";
      shop.log({ request: id, code: refusal.code, path: c.req.routePath, cause });
    }
    if (refusal.particulars.retryAfterS) {
      c.header("retry-after", String(refusal.particulars.retryAfterS));
    }
    c.header("x-content-type-options", "nosniff");
    const problem = problemOf(refusal, `urn:uuid:${id}`);
    if (c.req.path.startsWith("/v1/") || !c.req.header("accept")?.includes("text/html")) {
      c.header("access-control-allow-origin", "*");
      return c.body(JSON.stringify(problem), refusal.status, {
        "content-type": "application/problem+json",
      });
    }
    const sentences = (problem.findings ?? []).map(({ sentence }) => sentence);
    const back = c.req.path.startsWith("/maker/") ? "/maker" : "/";
    const model = { title: problem.title, problem, sentences, back };
    return c.html(renderPage("message", model), refusal.status);
  });
  return app;
}

function failed(error: Error): Refusal {
  const detail = "Something went wrong on our side. Nothing you had is lost; please try again.";
  return new Refusal("service.failed", detail, { cause: error });
}
