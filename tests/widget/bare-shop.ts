/**
 * A bare shop page under a strict content policy, with the service's three answers behind it, for
 * tests of the widget.
 */
import { type IncomingMessage, type ServerResponse, createServer } from "node:http";
import type { AddressInfo } from "node:net";
import { build } from "esbuild";
import { composeBlend } from "#core/compose/compose.ts";
import { judgeBlend } from "#core/judge/verdict.ts";
import { priceJar, pricePer100g } from "#core/price/price.ts";
import type { BlendOpened, Problem, ProductOffer, QuoteAnswer, QuoteRequest } from "#core/wire.ts";
import { wordsBuild } from "#widget/bundle.mjs";

const STRICT_POLICY =
  "default-src 'none'; script-src 'self'; style-src 'self'; connect-src 'self'; " +
  "base-uri 'none'; form-action 'none'; require-trusted-types-for 'script'";

/** What the shop does when asked; tests change it between steps. */
export interface Manners {
  offer: ProductOffer;
  /** Added to the price of a jar in quotes: the price changed meanwhile [minor units]. */
  dearerByMinor: number;
  /** Answers of this status instead of an order or a quote. */
  quoteProblem?: Problem;
  orderProblem?: Problem;
  /** The order is placed, but the answer is lost on the way. */
  loseOrderAnswers: number;
  /** The product is answered with only after this. */
  productAfter?: Promise<void>;
  /** The second script cannot be had. */
  withoutNearest?: boolean;
  /** Further scripts by the end of their name, "more" for softset.more.js; what is missing cannot be had. */
  scripts?: Readonly<Record<string, string>>;
  /** What the code of a blend opens as; altered when missing. */
  opened?: BlendOpened | Problem;
  /** Scripts of words that cannot be had, such as "fr". */
  withoutWords?: readonly string[];
  /** Attributes and children of the elements on the page. */
  body: string;
  /** Attributes of the page's root element. */
  root: string;
  css: string;
  /** How the page asks for the script: a module, or a classic one. */
  script: "defer" | `type="module"`;
}

export interface BareShop {
  readonly url: string;
  readonly manners: Manners;
  /** Orders by quote token: a second order on one token is the first one again. */
  readonly orders: Map<string, { reference: string; request: QuoteRequest }>;
  /** Every POST that came in, oldest first. */
  readonly posts: { path: string; body: unknown }[];
  close(): Promise<void>;
}

/** Of a blend; the bare shop opens any code as its manners say. */
export const A_CODE = "AQhldmVyeWRheQEAAJkusAkAogsA8wrkll1gvAJlmxCwNAgxGPbi";

export const ONE_COMPOSER = `<softset-composer product="evening-butter"></softset-composer>`;

const BARE_CSS = `:root { color-scheme: light dark } body { margin: 0; font: 17px/1.5 Georgia, serif }
main { max-inline-size: 76rem; margin-inline: auto }`;

/** Open the shop on a free port. */
export async function openShop(
  script: string,
  offer: ProductOffer,
  nearestScript = "",
): Promise<BareShop> {
  const manners: Manners = {
    offer,
    dearerByMinor: 0,
    loseOrderAnswers: 0,
    body: ONE_COMPOSER,
    root: `lang="en"`,
    css: BARE_CSS,
    script: `type="module"`,
  };
  const orders: BareShop["orders"] = new Map();
  const posts: BareShop["posts"] = [];
  const quotes = new Map<string, QuoteRequest>();
  const server = createServer((request, response) => {
    void answer(request, response).catch((fault: unknown) => {
      response.writeHead(500).end(String(fault));
    });
  });

  async function answer(request: IncomingMessage, response: ServerResponse): Promise<void> {
    const path = new URL(request.url ?? "/", "http://shop").pathname;
    if (request.method === "POST") {
      const body: unknown = JSON.parse(await bodyOf(request));
      posts.push({ path, body });
      if (path === "/v1/quotes") return quote(response, body as QuoteRequest);
      if (path === "/v1/blend-links") return json(response, { code: A_CODE });
      if (path === "/v1/orders") return order(response, body as { quote: string });
    }
    if (path === "/") return send(response, "text/html", page(manners));
    if (path === "/widget.js") return send(response, "text/javascript", script);
    if (path === "/softset.nearest.js" && !manners.withoutNearest) {
      return send(response, "text/javascript", nearestScript);
    }
    const [, further] = /^\/softset\.([\w.]+)\.js$/.exec(path) ?? [];
    const extra = manners.scripts?.[further ?? ""];
    if (extra) return send(response, "text/javascript", extra);
    if (path.startsWith("/v1/blend-links/")) return opened(response);
    const [, lang] = /^\/softset\.words\.(\w+)\.js$/.exec(path) ?? [];
    if (lang && !manners.withoutWords?.includes(lang)) {
      return send(response, "text/javascript", await wordsOf(lang));
    }
    if (path === "/shop.css") return send(response, "text/css", manners.css);
    if (path === "/favicon.ico") return void response.writeHead(204).end();
    if (path.startsWith("/pay/")) return send(response, "text/html", PAY_PAGE);
    if (path === `/v1/products/${manners.offer.product.id}`) {
      await manners.productAfter;
      return json(response, manners.offer);
    }
    problem(response, aProblem(404, "product.unknown", "There is no such product."));
  }

  function opened(response: ServerResponse): void {
    const answer = manners.opened ?? aProblem(400, "compose.code.altered", "Altered.");
    if ("code" in answer) problem(response, answer);
    else json(response, answer);
  }

  function quote(response: ServerResponse, request: QuoteRequest): void {
    if (manners.quoteProblem) return problem(response, manners.quoteProblem);
    const token = `token-${quotes.size + 1}`;
    quotes.set(token, request);
    json(response, quoteFor(manners, request, token));
  }

  function order(response: ServerResponse, { quote: token }: { quote: string }): void {
    if (manners.orderProblem) return problem(response, manners.orderProblem);
    const request = quotes.get(token);
    if (!request) return problem(response, aProblem(422, "order.quote.altered", "Not our quote."));
    const known = orders.get(token) ?? { reference: `EB-${orders.size + 1}`, request };
    orders.set(token, known);
    if (manners.loseOrderAnswers > 0) {
      manners.loseOrderAnswers -= 1;
      // A broken body, not a broken line: browsers silently send again over a fresh line.
      response.writeHead(200, { "content-length": "999" }).write("{", () => response.destroy());
      return;
    }
    const { reference } = known;
    const url = `http://${address}`;
    json(response, {
      reference,
      state: "placed",
      orderUrl: `${url}/pay/order-${reference}`,
      payUrl: `${url}/pay/${reference}`,
    });
  }

  await new Promise<void>((ready) => server.listen(0, "127.0.0.1", ready));
  const address = `127.0.0.1:${(server.address() as AddressInfo).port}`;
  return {
    url: `http://${address}/`,
    manners,
    orders,
    posts,
    close: () =>
      new Promise((done) => {
        server.closeAllConnections();
        server.close(() => done());
      }),
  };
}

const words = new Map<string, Promise<string>>();

/** A script of words, built once for all shops. */
function wordsOf(lang: string): Promise<string> {
  const known = words.get(lang);
  if (known) return known;
  const made = build({ ...wordsBuild(lang), write: false }).then(
    ({ outputFiles }) => outputFiles![0]!.text,
  );
  words.set(lang, made);
  return made;
}

/** A problem as the service would answer it (RFC 9457). */
export function aProblem(status: number, code: string, detail: string): Problem {
  return { type: `urn:softset:problem:${code}`, title: detail, status, detail, code };
}

const PAY_PAGE = `<!doctype html><html lang="en"><title>Pay</title><h1>Pay here</h1>`;

function page({ body, root, script }: Manners): string {
  return `<!doctype html><html ${root}><head><meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1"><title>Bare shop</title>
<link rel="stylesheet" href="/shop.css"><script ${script} src="/widget.js"></script></head>
<body><main><h1>Bare shop</h1>${body}</main></body></html>`;
}

/** Judged and priced again, as the service does. */
function quoteFor(
  { offer, dearerByMinor }: Manners,
  request: QuoteRequest,
  token: string,
): QuoteAnswer {
  const { product } = offer;
  const composed = composeBlend(product, request.choice, (id) =>
    offer.ingredients.find((each) => each.id === id),
  );
  if ("findings" in composed) throw new Error(JSON.stringify(composed.findings));
  const { blend } = composed;
  const { useCelsius, airFraction, rules } = product;
  const judged = judgeBlend(blend, { celsius: [], useCelsius, airFraction, rules });
  if (judged.verdict !== "orderable") throw new Error(`the page let through: ${judged.verdict}`);
  const jar = product.jars.find(({ id }) => id === request.jar)!;
  const priced = priceJar(offer.tariffs[jar.id]!, blend);
  if ("findings" in priced) throw new Error("no price");
  const jarMinor = priced.jarMinor + dearerByMinor;
  const base = product.bases.find(({ id }) => id === request.choice.base)!;
  const issuedAt = Math.floor(Date.now() / 1000);
  return {
    token,
    quote: {
      id: token,
      product: { id: product.id, name: product.name, version: offer.version },
      base: { id: base.id, name: base.name },
      choice: request.choice,
      parts: blend.parts.map(({ ingredient: { id, name, inci }, share }) => ({
        ingredient: id,
        name,
        inci,
        share,
      })),
      jar,
      quantity: request.quantity,
      currency: offer.currency,
      jarMinor,
      per100gMinor: pricePer100g(jarMinor, jar.fillG),
      totalMinor: jarMinor * request.quantity,
      taxMinor: 0,
      firmness: judged.firmness!.settled,
      softensAboveCelsius: judged.softensAboveCelsius ?? null,
      issuedAt,
      expiresAt: issuedAt + 900,
    },
  };
}

function send(response: ServerResponse, type: string, text: string): void {
  response
    .writeHead(200, {
      "content-type": `${type}; charset=utf-8`,
      "content-security-policy": STRICT_POLICY,
    })
    .end(text);
}

function json(response: ServerResponse, value: unknown): void {
  response.writeHead(200, { "content-type": "application/json" }).end(JSON.stringify(value));
}

function problem(response: ServerResponse, value: Problem): void {
  response
    .writeHead(value.status, { "content-type": "application/problem+json" })
    .end(JSON.stringify(value));
}

async function bodyOf(request: IncomingMessage): Promise<string> {
  const chunks: Buffer[] = [];
  for await (const chunk of request) chunks.push(chunk as Buffer);
  return Buffer.concat(chunks).toString("utf8");
}
