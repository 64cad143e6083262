/**
 * What happens to every request before a route sees it.
 */
import type { Context, MiddlewareHandler } from "hono";
import type { z } from "zod";
import { Refusal } from "./problem.ts";
import { pointersOf } from "./typed/pointers.ts";

/** Largest body taken; a blend of 40 parts is under 4 KiB. */
const BODY_MOST_BYTES = 64 * 1024;

/** Where a maker sends tables in: 4 MiB, and room for the rest of the form. */
const LARGE_BODIES: Readonly<Record<string, number>> = {
  "/maker/shelf/files": 4 * 1024 * 1024 + 16 * 1024,
};

/** Refuses a body over what its path may take, by its announced length or, when it comes in pieces, by counting. */
export const limitBody: MiddlewareHandler = async (c, next) => {
  const announced = c.req.header("content-length");
  const most = LARGE_BODIES[c.req.path] ?? BODY_MOST_BYTES;
  if (announced !== undefined && Number(announced) > most) throw tooLarge(most);
  const mayHaveBody = c.req.method !== "GET" && c.req.method !== "HEAD";
  if (announced === undefined && mayHaveBody && c.req.raw.body) {
    c.req.raw = await countedRequest(c.req.raw, most);
  }
  await next();
};

async function countedRequest(request: Request, most: number): Promise<Request> {
  const chunks: Uint8Array<ArrayBuffer>[] = [];
  let size = 0;
  const reader = request.body!.getReader();
  for (let chunk = await reader.read(); !chunk.done; chunk = await reader.read()) {
    size += chunk.value.byteLength;
    if (size > most) {
      await reader.cancel();
      throw tooLarge(most);
    }
    chunks.push(chunk.value);
  }
  const { method, headers, url } = request;
  return new Request(url, { method, headers, body: new Blob(chunks) });
}

function tooLarge(most: number): Refusal {
  const kib = Math.floor(most / 1024);
  const size = kib < 1024 ? `${kib} KiB` : `${Math.floor(kib / 1024)} MiB`;
  return new Refusal("request.body.too-large", `A request may hold at most ${size}.`);
}

/**
 * The JSON body of a request in the shape a route expects.
 * @throws Refusal request.body.wrong-type, request.body.malformed or request.body.invalid with a pointer for each fault
 */
export async function readJson<Shape extends z.ZodType>(
  c: Context,
  shape: Shape,
): Promise<z.infer<Shape>> {
  if (!/^application\/(.+\+)?json\b/i.test(c.req.header("content-type") ?? "")) {
    throw new Refusal("request.body.wrong-type", "Send the body as application/json.");
  }
  const text = await c.req.text();
  let body: unknown;
  try {
    body = JSON.parse(text);
  } catch {
    throw new Refusal("request.body.malformed", "The body could not be read as JSON.");
  }
  const parsed = shape.safeParse(body);
  if (parsed.success) return parsed.data;
  throw new Refusal("request.body.invalid", "The body lacks something or holds something extra.", {
    errors: pointersOf(parsed.error),
  });
}

/**
 * The fields of a form; none when nothing was sent along.
 * @throws Refusal request.form.malformed when the body is no form, or breaks off
 */
export async function readForm(c: Context): Promise<FormData> {
  const isEmpty = (c.req.header("content-length") ?? "0") === "0";
  if (isEmpty && c.req.header("content-type") === undefined) return new FormData();
  try {
    return await c.req.formData();
  } catch (error) {
    if (!(error instanceof TypeError)) throw error; // which is how both runtimes say it
    const detail =
      "The form did not arrive whole, so nothing was changed. Go back, open its page again and send it once more.";
    throw new Refusal("request.form.malformed", detail, { cause: error });
  }
}

/**
 * Lets a form through only from our own pages, whatever its content type (cross-site request forgery).
 * @param origin origin of the shop, for browsers that do not say Sec-Fetch-Site
 */
export function ownPagesOnly(origin: string): MiddlewareHandler {
  return async (c, next) => {
    if (!["GET", "HEAD", "OPTIONS"].includes(c.req.method)) {
      const site = c.req.header("sec-fetch-site");
      const ours = site ? site === "same-origin" : c.req.header("origin") === origin;
      if (!ours) {
        throw new Refusal(
          "request.origin.foreign",
          "This can only be sent from the shop's own pages.",
        );
      }
    }
    await next();
  };
}

/** Orders of host shops. A key belongs on a server, so no page of any origin may read what it opens. */
const WITH_KEY = /^\/v1\/orders(\/[^/]+(\/cancel)?)?$/;

/** Whether a page of another shop may read the answer: all of the public API, and nothing that a key opens. */
function isOpenToOtherPages(c: Context): boolean {
  const { method, path } = c.req;
  if (c.req.header("authorization") !== undefined) return false;
  if (!WITH_KEY.test(path)) return true;
  const wanted = method === "OPTIONS" ? c.req.header("access-control-request-method") : method;
  return path === "/v1/orders" && wanted === "POST"; // a customer's own order
}

/**
 * Lets pages of other shops call the public API; nothing personal is in it and no cookie goes along.
 * @param embedders origins that may; any when the shop named none
 */
export function openToOtherPages(embedders: ReadonlySet<string> | undefined): MiddlewareHandler {
  const allowed = (origin: string | undefined) => {
    if (!embedders) return "*";
    return origin !== undefined && embedders.has(origin) ? origin : undefined;
  };
  return async (c, next) => {
    if (!isOpenToOtherPages(c)) {
      await next();
      return;
    }
    const origin = allowed(c.req.header("origin"));
    // Set before the answer is made: set after it, the whole answer would be built anew.
    if (embedders) c.header("vary", "Origin", { append: true });
    if (origin) c.header("access-control-allow-origin", origin);
    if (c.req.method !== "OPTIONS") {
      await next();
      return;
    }
    return c.body(null, 204, {
      "access-control-allow-methods": "GET, POST",
      "access-control-allow-headers": "content-type",
      "access-control-max-age": "86400",
    });
  };
}

/** A year, as OWASP ASVS 5.0 (3.4.1) asks; of this host alone, since those below it are not the shop's to rule [s] */
const HTTPS_ONLY_S = 31_536_000;

/** What is no page runs nothing, should a browser be led to open it as one (OWASP ASVS 5.0, 3.4.3). */
const NOTHING_RUNS = "default-src 'none'; base-uri 'none'; frame-ancestors 'none'";

/**
 * What is for sale is the same to everybody and read a second late anyway, so a cache in front of the shop may answer a
 * crowd with it for two; a browser asks each time. Own choice.
 */
export const KEPT_BRIEFLY = "public, max-age=0, s-maxage=2";

/**
 * Headers of every answer: no guessing at its kind, nothing run from what is no page and, for a shop that people reach
 * by https, nothing else ever after. Over plain http the last must not be sent (RFC 6797 section 7.2). A cache keeps
 * nothing without asking unless a route says so: left to itself it may guess, also about a 404 (RFC 9111 section
 * 4.2.2).
 * @param url address of the shop
 */
export function everyAnswer(url: string): MiddlewareHandler {
  const isHttps = url.startsWith("https:");
  return async (c, next) => {
    c.header("x-content-type-options", "nosniff");
    c.header("content-security-policy", NOTHING_RUNS);
    c.header("cache-control", "no-cache");
    if (isHttps) c.header("strict-transport-security", `max-age=${HTTPS_ONLY_S}`);
    await next();
  };
}

/** Headers of our own pages: nothing from elsewhere, no framing, no address leaking to other sites. */
export function setPageHeaders(c: Context): void {
  c.header(
    "content-security-policy",
    "default-src 'none'; script-src 'self'; style-src 'self'; font-src 'self'; img-src 'self' data:; " +
      "connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'",
  );
  c.header("referrer-policy", "no-referrer");
  c.header("cross-origin-opener-policy", "same-origin");
}

export const pageHeaders: MiddlewareHandler = async (c, next) => {
  setPageHeaders(c);
  await next();
};

/** For pages that hold someone's order or the maker's work: never kept by a cache, never indexed. */
export const privatePage: MiddlewareHandler = async (c, next) => {
  c.header("cache-control", "no-store");
  c.header("x-robots-tag", "noindex");
  await next();
};
