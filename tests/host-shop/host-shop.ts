/**
 * A host shop, as small as one can be: a page with the element, a cart of its own, a payment that is only pretended,
 * the order placed over the API, and events taken in. It trusts nothing that a page sends: the price comes out of the
 * token, and the token is checked with the shop's public keys by a library of the host's own choice.
 */
import { Hono } from "hono";
import { compactVerify, createRemoteJWKSet, customFetch } from "jose";
import { Webhook } from "standardwebhooks";
import type { OrderEvent } from "#core/wire-host.ts";
import type { QuoteSnapshot } from "#core/wire.ts";
import { SoftsetRefused, softsetClient } from "#service/client/client.ts";

export interface HostSettings {
  /** Address of the Softset shop. */
  readonly softset: string;
  readonly key: string;
  readonly eventSecret: string;
  readonly product: string;
  readonly fetch: typeof globalThis.fetch;
}

export interface Cart {
  readonly id: string;
  readonly token: string;
  readonly quote: QuoteSnapshot;
  /** What the host's own payment took [minor units]; nothing while it is not paid. */
  takenMinor?: number;
  /** Reference of the order at the maker's. */
  reference?: string;
  /** Where the events say that it stands. */
  state?: string;
}

export function openHostShop(settings: HostSettings) {
  const { softset, key, fetch } = settings;
  const client = softsetClient({ url: softset, key, fetch });
  const keys = createRemoteJWKSet(new URL(`${softset}/v1/quote-keys`), { [customFetch]: fetch });
  const carts = new Map<string, Cart>();
  const seen = new Set<string>();

  const app = new Hono()
    .get("/", (c) => c.html(page("Corner Larder", element(settings))))
    .get("/host.js", (c) => c.body(SCRIPT, 200, { "content-type": "text/javascript" }))
    .post("/cart", async (c) => {
      const { token } = await c.req.json<{ token: string }>();
      const checked = await compactVerify(token, keys, { algorithms: ["EdDSA"] }).catch(() => null);
      if (checked?.protectedHeader.typ !== "softset-quote+json") return c.text("no quote", 400);
      const quote = JSON.parse(new TextDecoder().decode(checked.payload)) as QuoteSnapshot;
      const id = `C-${carts.size + 1}`;
      carts.set(id, { id, token, quote });
      return c.json({ cart: `/cart/${id}` }, 201);
    })
    .get("/cart/:id", (c) => {
      const cart = carts.get(c.req.param("id"));
      return cart ? c.html(page("Your cart", basket(cart))) : c.notFound();
    })
    .post("/cart/:id/pay", async (c) => {
      const cart = carts.get(c.req.param("id"));
      if (!cart) return c.notFound();
      const { totalMinor: amountMinor, currency } = cart.quote;
      cart.takenMinor ??= amountMinor; // the pretended payment: once, whatever is pressed twice
      try {
        const order = await client.placeOrder(
          {
            quote: cart.token,
            hostReference: cart.id,
            paid: { amountMinor, currency: currency.code },
            customer: { name: "Wren Ashdown" },
          },
          cart.id,
        );
        cart.reference = order.reference;
        return c.redirect(`/cart/${cart.id}`, 303);
      } catch (error) {
        if (!(error instanceof SoftsetRefused)) {
          // Nobody knows whether the order stands: what was taken is kept, and the same is sent again.
          return c.html(page("One moment", "<p>You have paid. Please press again.</p>"), 503);
        }
        delete cart.takenMinor; // given back
        return c.html(page("Not ordered", `<p>${error.problem.code}</p>`), 409);
      }
    })
    .post("/softset-events", async (c) => {
      let event: OrderEvent;
      try {
        const headers = Object.fromEntries(c.req.raw.headers);
        event = new Webhook(settings.eventSecret).verify(await c.req.text(), headers) as OrderEvent;
      } catch {
        return c.text("not signed by the shop", 400);
      }
      const id = c.req.header("webhook-id")!;
      const cart = carts.get(event.data.hostReference ?? "");
      if (cart && !seen.has(id)) {
        seen.add(id);
        // An event says that something happened; where the order stands the shop is asked.
        cart.state = (await client.order(event.data.reference)).state;
      }
      return c.body(null, 204);
    });
  return { app, client, carts, seen };
}

const SCRIPT = `document.addEventListener("softset-quoted", async (event) => {
  event.preventDefault();
  const answer = await fetch("/cart", {
    method: "POST",
    headers: { "content-type": "application/json" },
    body: JSON.stringify({ token: event.detail.token }),
  });
  location.assign((await answer.json()).cart);
});`;

function element({ softset, product }: HostSettings): string {
  return `<script type="module" src="/host.js"></script>
<script type="module" src="${softset}/assets/softset.js"></script>
<softset-composer product="${product}" service="${softset}"></softset-composer>`;
}

function basket({ id, quote, reference }: Cart): string {
  const price = (quote.totalMinor / 10 ** quote.currency.exponent).toFixed(quote.currency.exponent);
  const standing = reference
    ? `<p>Ordered: ${reference}</p>`
    : `<form method="post" action="/cart/${id}/pay"><button>Pay</button></form>`;
  return `<p>${quote.quantity} × ${quote.product.name}, ${price} ${quote.currency.code}</p>${standing}`;
}

function page(title: string, body: string): string {
  return `<!doctype html><html lang="en"><head><meta charset="utf-8"><title>${title}</title>
<meta name="viewport" content="width=device-width, initial-scale=1"></head>
<body><main><h1>${title}</h1>${body}</main></body></html>`;
}
