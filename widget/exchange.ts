/**
 * The only file that calls the service. Every call ends within its time, and every failure comes
 * back as a value.
 */
import type {
  BlendLinkAnswer,
  BlendLinkRequest,
  BlendOpened,
  OrderAnswer,
  OrderStanding,
  Problem,
  ProductOffer,
  QuoteAnswer,
  QuoteRequest,
} from "#core/wire.ts";
import { type Errand, type Trouble, noAnswer, refused } from "./troubles.ts";

export type Answer<Value> = { readonly value: Value } | { readonly trouble: Trouble };

const TIME_LIMIT_MS = 20_000;

/**
 * GET /v1/products/:product
 * @param language names of ingredients are wanted in; the shop's own when not said
 */
export function loadOffer(
  service: string,
  product: string,
  language?: string,
): Promise<Answer<ProductOffer>> {
  const wanted = language ? `?language=${language}` : "";
  const path = `products/${encodeURIComponent(product)}${wanted}`;
  return ask("load", addressOf(service, path), isOffer);
}

/** POST /v1/quotes */
export function requestQuote(service: string, request: QuoteRequest): Promise<Answer<QuoteAnswer>> {
  return ask("quote", addressOf(service, "quotes"), isQuote, posting(request));
}

/** POST /v1/orders. Safe to repeat with the same token: a quote makes one order. */
export function placeOrder(service: string, token: string): Promise<Answer<OrderAnswer>> {
  return ask("order", addressOf(service, "orders"), isOrder, posting({ quote: token }));
}

/** POST /v1/blend-links */
export function requestCode(
  service: string,
  request: BlendLinkRequest,
): Promise<Answer<BlendLinkAnswer>> {
  return ask("link", addressOf(service, "blend-links"), isCode, posting(request));
}

/** GET /v1/blend-links/:code. Browsers keep a 410 for good, and a shop may learn to read a code again. */
export function openCode(service: string, code: string): Promise<Answer<BlendOpened>> {
  const address = addressOf(service, `blend-links/${encodeURIComponent(code)}`);
  return ask("link", address, isOpened, { cache: "no-store" });
}

/** GET /v1/orders/:order/:token */
export function readOrder(
  service: string,
  order: string,
  token: string,
): Promise<Answer<OrderStanding>> {
  return ask("link", addressOf(service, `orders/${order}/${token}`), isStanding);
}

function addressOf(service: string, path: string): string {
  return `${service.replace(/\/+$/, "")}/v1/${path}`;
}

function posting(body: unknown): RequestInit {
  return {
    method: "POST",
    headers: { "content-type": "application/json" },
    body: JSON.stringify(body),
  };
}

async function ask<Value>(
  errand: Errand,
  url: string,
  isValue: (answer: unknown) => answer is Value,
  request?: RequestInit,
): Promise<Answer<Value>> {
  const signal = AbortSignal.timeout(TIME_LIMIT_MS);
  try {
    const response = await fetch(url, { ...request, credentials: "omit", signal });
    const answer: unknown = await response.json().catch((fault: unknown) => {
      if (!(fault instanceof SyntaxError)) throw fault;
    });
    if (!response.ok) {
      return { trouble: refused(errand, response.status, isProblem(answer) ? answer : undefined) };
    }
    return isValue(answer) ? { value: answer } : { trouble: noAnswer(errand, "unreadable") };
  } catch {
    const why = signal.aborted ? "slow" : navigator.onLine ? "unreachable" : "offline";
    return { trouble: noAnswer(errand, why) };
  }
}

/* Enough of each shape to say a clear sentence instead of showing a broken page; the service owns the full check. */

function isOffer(answer: unknown): answer is ProductOffer {
  const paths =
    "product.bases.0.id product.jars.0.id product.places ingredients.0.id tariffs locale " +
    "currency.code currency.exponent";
  return holds(answer, paths);
}

function isQuote(answer: unknown): answer is QuoteAnswer {
  return holds(answer, "token quote.jarMinor quote.totalMinor quote.parts");
}

/** Only web pages may be opened: an answer can never make this page run a script address. */
function isOrder(answer: unknown): answer is OrderAnswer {
  if (!holds(answer, "reference orderUrl")) return false;
  const { orderUrl, payUrl } = answer as OrderAnswer;
  return [orderUrl, payUrl ?? orderUrl].every((url) => /^https?:\/\//.test(url));
}

function isCode(answer: unknown): answer is BlendLinkAnswer {
  return holds(answer, "code");
}

function isOpened(answer: unknown): answer is BlendOpened {
  return holds(answer, "product.id version choice.base choice.butters choice.oils jar");
}

function isStanding(answer: unknown): answer is OrderStanding {
  return holds(answer, "reference state");
}

function isProblem(answer: unknown): answer is Problem {
  return holds(answer, "code detail");
}

function holds(answer: unknown, paths: string): boolean {
  return paths.split(" ").every((path) => {
    let at: unknown = answer;
    for (const key of path.split("."))
      at = (at as Record<string, unknown> | undefined | null)?.[key];
    return at !== undefined && at !== null;
  });
}
