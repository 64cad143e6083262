/**
 * The app: middleware and routes over the ports, the same in Node and at the edge.
 */
import { type Context, type ErrorHandler, Hono } from "hono";
import { accepts } from "hono/accepts";
import { requestId } from "hono/request-id";
import { offersOf } from "./actions/offer.ts";
import { type Limiter, limitRequests } from "./guard/limits.ts";
import { everyAnswer, limitBody, openToOtherPages, setPageHeaders } from "./middleware.ts";
import { type Reader, benchProblem, customerProblem } from "./pages/problem-page.ts";
import { renderPage } from "./pages/render.ts";
import { shopPages } from "./pages/shop-pages.ts";
import type { Ports, Shop } from "./ports.ts";
import { type ProblemCode, Refusal, problemOf } from "./problem.ts";
import { assetRoutes } from "./routes/assets.ts";
import { blendLinkRoutes } from "./routes/blend-links.ts";
import { composeRoutes } from "./routes/compose.ts";
import { hostOrderRoutes } from "./routes/host-orders.ts";
import { judgeRoutes } from "./routes/judge.ts";
import { makerRoutes } from "./routes/maker.ts";
import { nearestRoutes } from "./routes/nearest.ts";
import { openApiRoutes } from "./routes/openapi.ts";
import { orderRoutes } from "./routes/order.ts";
import { healthRoutes, livenessRoutes } from "./routes/health.ts";
import { pageRoutes } from "./routes/pages.ts";
import { paymentEventRoutes } from "./routes/payment-events.ts";
import { priceRoutes } from "./routes/price.ts";
import { wishesRoutes } from "./routes/wishes.ts";
import { asDatabaseFault } from "./storage/database-fault.ts";
import { isDrawnId } from "./typed/form-carried.ts";
import { LANGS } from "./words/speak.ts";

/**
 * The id of a request is a UUID and nothing else: taken from a proxy that sends one, so that both logs tell of the same
 * request, and made when anything else stands there, because a stranger must not write into the log.
 */
const ownRequestId = requestId({
  headerName: "",
  generator: ({ req }) => {
    const sent = (req.header("x-request-id") ?? "").toLowerCase();
    return isDrawnId(sent) ? sent : crypto.randomUUID();
  },
});

/** What stands before the shop, as its entry and its settings have it. */
export interface Gate {
  /** Nothing where nobody is counted, as in tests that ask thousands of times. */
  readonly limiter?: Limiter | undefined;
  /** Origins of pages that may call the public API; any when the shop named none. */
  readonly embedders?: ReadonlySet<string> | undefined;
}

/** Build the app. */
export function createApp(shop: Shop, { limiter, embedders }: Gate = {}): Hono {
  const offers = offersOf(shop);
  const app = new Hono();
  app.use(ownRequestId);
  app.use(everyAnswer(shop.url));
  app.use("/v1/*", openToOtherPages(embedders));
  app.use(limitBody);
  if (limiter) app.use(limitRequests(limiter));
  app.route("/", healthRoutes(shop));
  app.route("/v1", composeRoutes(shop, offers));
  app.route("/v1", blendLinkRoutes(shop, offers));
  app.route("/v1", judgeRoutes(offers));
  app.route("/v1", nearestRoutes(offers));
  app.route("/v1", wishesRoutes(offers));
  app.route("/v1", priceRoutes(shop, offers));
  app.route("/v1", orderRoutes(shop, offers));
  app.route("/v1", hostOrderRoutes(shop));
  app.route("/v1", paymentEventRoutes(shop));
  app.route("/v1", openApiRoutes(shop));
  app.route("/assets", assetRoutes(shop));
  app.route("/maker", makerRoutes(shop));
  app.route("/", pageRoutes(shop, offers));
  // A route, not `notFound`: that one is left behind when this app is put into another, as on a machine of its own.
  app.all("*", () => {
    throw new Refusal("request.route.unknown", "There is nothing at this address.");
  });
  const page = shopPages(shop.till);
  app.onError(
    answerError(shop.log, async (c, refusal, instance) => {
      const reader = (c.get("reader") as Reader | undefined) ?? (await readerOf(shop, c));
      return page("shop-message", customerProblem(refusal, instance, reader));
    }),
  );
  return app;
}

/** Whose shop it is; while it cannot be read, whoever looks is spoken to as their browser asks. */
async function readerOf({ shops }: Shop, c: Context): Promise<Reader> {
  const shop = await shops.first().catch(() => undefined);
  if (shop) return { shop, locale: shop.locale };
  const supports = [...LANGS];
  const locale = accepts(c, { header: "Accept-Language", supports, default: "en" });
  return { shop: undefined, locale };
}

/**
 * The app where no shop is open: says why, to every request, and hands out only what its page needs. What stands
 * against it is for whoever runs the shop, so it is English.
 * @param why a Refusal, or any other fault, which is then only logged
 */
export function createClosedApp(
  ports: Pick<Ports, "asset" | "log">,
  why: (request: Request) => Error,
): Hono {
  const app = new Hono();
  app.use(ownRequestId);
  app.use(everyAnswer(""));
  app.route("/", livenessRoutes());
  app.route("/assets", assetRoutes(ports));
  app.all("*", (c) => {
    throw why(c.req.raw);
  });
  app.onError(answerError(ports.log));
  return app;
}

/** Refusals that somebody who watches over a shop wants to see: knocking where nobody should (OWASP ASVS 5.0, 16.3). */
const OF_THE_GUARD: ReadonlySet<ProblemCode> = new Set<ProblemCode>([
  "maker.link.spent",
  "maker.passkey.copied",
  "maker.passkey.refused",
  "maker.role.not-enough",
  "order.quote.altered",
  "payment.signature.invalid",
  "request.key.unknown",
  "request.origin.foreign",
  "request.rate.exceeded",
]);

type CustomerPage = (c: Context, refusal: Refusal, instance: string) => Promise<string>;

/**
 * A refusal as a problem document or, for a person with a browser, as a page.
 * @param customerPage the page for whoever is not on the maker's side; without one, all get the maker's
 */
function answerError(log: Ports["log"], customerPage?: CustomerPage): ErrorHandler {
  return async (error, c) => {
    const refusal = error instanceof Refusal ? error : failed(error);
    const id = c.get("requestId");
    if (refusal.status >= 500) {
      const cause = refusal.cause instanceof Error ? (refusal.cause.stack ?? "") : "";
      log({ request: id, code: refusal.code, path: c.req.routePath, cause });
    } else if (OF_THE_GUARD.has(refusal.code)) {
      log({ request: id, code: refusal.code, path: c.req.routePath });
    }
    if (refusal.particulars.retryAfterS) {
      c.header("retry-after", String(refusal.particulars.retryAfterS));
    }
    const instance = `urn:uuid:${id}`;
    const problem = problemOf(refusal, instance);
    if (c.req.path.startsWith("/v1/") || !c.req.header("accept")?.includes("text/html")) {
      return c.body(JSON.stringify(problem), refusal.status, {
        "content-type": "application/problem+json",
      });
    }
    const isBench = /^\/maker(\/|$)/.test(c.req.path);
    const page =
      customerPage && !isBench
        ? await customerPage(c, refusal, instance)
        : renderPage("message", benchProblem(problem, customerPage ? "/maker" : ""));
    setPageHeaders(c); // also where the refusal came before they were set
    return c.html(page, refusal.status);
  };
}

function failed(error: Error): Refusal {
  const fault = asDatabaseFault(error);
  if (fault) return fault;
  const detail = "Something went wrong on our side. Nothing you had is lost; please try again.";
  return new Refusal("service.failed", detail, { cause: error });
}
