/**
 * Who may ask which route: one line for every route there is. A route without a line fails the tests, so that whoever
 * adds one says whose it is.
 *
 * - open: anybody; it holds nothing of anybody's
 * - link: whoever holds the secret in the address; nobody else, whatever they are signed in as
 * - key: a host shop with its key, and only what came with that key
 * - signature: the payment service, by the signature over its body
 * - door: anybody who stands at the maker's door
 * - inside: bench and owner of the shop
 * - owner: owners of the shop
 */
export type Rule = "open" | "link" | "key" | "signature" | "door" | "inside" | "owner";

const LINES: readonly (readonly [Rule, string, string])[] = [
  ["open", "", "GET / | GET /assets/:name | GET /shop/:product | POST /shop/:product/quote"],
  ["open", "", "GET /healthz | GET /readyz"],
  [
    "open",
    "/v1",
    "GET | GET /products | GET /products/:product | GET /quote-keys | GET /openapi.json",
  ],
  [
    "open",
    "/v1",
    "POST /verdicts | POST /nearest | POST /wishes | POST /blend-links | POST /quotes | POST /orders",
  ],
  ["link", "/v1", "GET /blend-links/:code | GET /orders/:order/:token"],
  ["key", "/v1", "GET /orders | GET /orders/:reference | POST /orders/:reference/cancel"],
  ["signature", "/v1", "POST /payment-events"],
  ["link", "/shop/:product/quote/:quote", "GET | POST /order"],
  [
    "link",
    "/orders/:order/:token",
    "GET | GET /receipt | GET /data.json | POST /cancel | GET /erase | POST /erase",
  ],
  ["link", "/till/:session", "GET | POST /pay | POST /leave"],
  [
    "door",
    "/maker",
    "GET /enter | POST /enter/options | POST /enter/passkey | POST /enter/code | POST /leave",
  ],
  ["link", "/maker", "GET /enter/:token | POST /enter/:token"],
  ["inside", "/maker", "GET"],
  ["inside", "/maker/batches", "GET | GET /new | POST"],
  [
    "inside",
    "/maker/batches/:number",
    "GET | GET /sheets | POST /set-aside | POST /take-up | POST /notes",
  ],
  ["inside", "/maker/batches/:number", "GET /close | POST /close | GET /contents | POST /contents"],
  [
    "inside",
    "/maker/batches/:number/record",
    "GET | POST /started | POST /step | POST /deviation | POST /note",
  ],
  [
    "inside",
    "/maker/batches/:number",
    "GET /record.json | POST /record/retained-sample | POST /record/correction",
  ],
  ["inside", "/maker/batches/:number", "GET /:file{sheets-(a4|letter)\\.pdf}"],
  ["inside", "/maker/batches/:number", "GET /:file{record-(a4|letter)\\.pdf}"],
  ["inside", "/maker/batches/:number/labels/printed/:sequence", "GET /labels.pdf"],
  ["owner", "/maker/batches/:number/record", "POST /release"],
  ["inside", "/maker/batches/:number/correction/:run", "GET | POST | POST /take-back"],
  [
    "inside",
    "/maker/batches/:number/labels",
    "GET | POST | GET /page.css | GET /printed/:sequence",
  ],
  ["inside", "/maker/batches/:number/labels/printed/:sequence", "GET /:picture{[0-9]{1,3}\\.svg}"],
  ["inside", "/maker", "POST /sent/:reference | GET /trace | GET /trace/recall.csv"],
  [
    "inside",
    "/maker/kitchen",
    "GET | POST /jars | POST /jars/:id/strike | POST /jars/:id/restore | POST /law",
  ],
  ["inside", "/maker/you", "GET | POST /name | POST /recovery-code | POST /leave-everywhere"],
  [
    "inside",
    "/maker/you/passkeys",
    "POST | POST /options | POST /:id/name | POST /:id/remove | POST /:id/restore",
  ],
  ["owner", "/maker/orders", "GET"],
  [
    "owner",
    "/maker/orders/:reference",
    "GET | POST /hold | POST /release | POST /refund | POST /cancel",
  ],
  ["owner", "/maker/orders/:reference", "POST /keep-on | GET /data.json | POST /erase"],
  ["owner", "/maker", "GET /prices | GET /products/:product/price | POST /products/:product/price"],
  ["owner", "/maker/products", "POST /:product/price/try | GET | GET /new | POST /new | GET /:id"],
  [
    "owner",
    "/maker/products/:id",
    "GET /versions/:version | POST /versions/:version/sell | POST /withdraw",
  ],
  [
    "owner",
    "/maker/products/:id",
    "POST /put-away | POST /put-back | GET /publish | POST /publish",
  ],
  [
    "owner",
    "/maker/products/:id",
    "GET /words | POST /words | GET /oils | POST /oils | GET /additives",
  ],
  [
    "owner",
    "/maker/products/:id",
    "POST /additives | GET /jars | POST /jars | GET /rules | POST /rules | GET /label | POST /label",
  ],
  [
    "owner",
    "/maker/products/:id/bases",
    "GET | POST /put-back | GET /:base | POST /:base | POST /:base/look",
  ],
  [
    "owner",
    "/maker/products/:id",
    "POST /bases/:base/aside | POST /bases/:base/trial | GET /stand-in",
  ],
  ["owner", "/maker/products/:id/room", "GET | GET /progress | POST /trial"],
  ["owner", "/maker/shelf", "GET | GET /start | POST /start | GET /new | POST /new"],
  [
    "owner",
    "/maker/shelf/files",
    "GET | POST | GET /ingredients.csv | GET /lots.csv | GET /template-lots.csv",
  ],
  [
    "owner",
    "/maker/shelf/files",
    "GET /template-ingredients.csv | GET /:id | GET /:id/rows-to-mend.csv | POST /:id/write",
  ],
  [
    "owner",
    "/maker/shelf/lots/:id",
    "GET | POST /count | POST /waste | POST /undo | POST /block | POST /unblock",
  ],
  ["owner", "/maker/shelf/lots/:id", "POST /put-away | POST /put-back | GET /edit | POST /edit"],
  [
    "owner",
    "/maker/shelf/:id",
    "GET | GET /receive | POST /receive | GET /edit | POST /edit | POST /put-away",
  ],
  ["owner", "/maker/shelf/:id", "POST /put-back | POST /ran-out | POST /there-again"],
  [
    "owner",
    "/maker/messages",
    "GET | POST /drop-mails | POST /endpoints | POST /:id/again | POST /:id/drop",
  ],
  ["owner", "/maker/messages/endpoints/:id", "POST /secret | POST /trial | POST /off | POST /on"],
  [
    "owner",
    "/maker/shop",
    "GET | POST | GET /carriage | POST /carriage | GET /labels | POST /labels",
  ],
  [
    "owner",
    "/maker/shop/people",
    "GET | POST | POST /:id/link | POST /:id/role | POST /:id/remove | POST /:id/restore",
  ],
  ["owner", "/maker/shop/keys", "GET | POST | POST /:id/renew | POST /:id/revoke"],
  [
    "owner",
    "/maker/shop/zones",
    "GET /new | POST /new | GET /:id | POST /:id | POST /:id/remove | POST /:id/restore",
  ],
];

/** The same for any shop: it holds nothing of one. */
export const OF_NO_SHOP: ReadonlySet<string> = new Set([
  "GET /maker/batches/:number/labels/page.css",
  // Says what a name must be before it looks whose the passkey is.
  "POST /maker/you/passkeys/:id/name",
]);

/** Rule by method and path, as the app writes them. */
export const RULES: ReadonlyMap<string, Rule> = new Map(
  LINES.flatMap(([rule, under, routes]) =>
    routes.split(" | ").map((route): [string, Rule] => {
      const [method = "", path = ""] = route.split(" ");
      return [`${method} ${under}${path}`, rule];
    }),
  ),
);
