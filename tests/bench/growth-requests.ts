/**
 * What customers and makers ask for most, drawn by chance in a shop of any size: each answer holds as many rows in a
 * young shop as in one after many years, so that only looking for them can take longer.
 */
import SQLite from "better-sqlite3";
import { chanceFrom } from "#core/order/room/sequence.ts";
import type { QuoteAnswer } from "#core/wire.ts";
import { type openTestShop, aQuoteRequest } from "../helpers/shop.ts";
import { customersOf, referenceOf } from "./big-orders.ts";

type Shop = Awaited<ReturnType<typeof openTestShop>>;
type Side = "customer" | "maker";

/** Something to ask for. */
export interface Asked {
  readonly name: string;
  readonly side: Side;
  /** Everything that comes before, outside the clock. @returns the request itself */
  readonly prepare: () => Promise<() => Promise<Response>>;
}

export interface Size {
  readonly orders: number;
  /** Besides those of the demo. */
  readonly products: number;
}

/** @param cookie of the owner */
export function requestsByOrders(shop: Shop, file: string, { orders }: Size, cookie: string) {
  const draw = chanceFrom(orders);
  const any = (of: number) => Math.floor(draw() * of);
  const batches = numbersOf(file);
  const { product, choice } = aQuoteRequest();
  const get = getter(shop, cookie);
  return [
    get("customer", "product page", () => "/shop/everyday"),
    get("customer", "offer", () => "/v1/products/everyday"),
    post(shop, "verdict", async () => ["/v1/verdicts", { product, choice }]),
    post(shop, "quote", async () => ["/v1/quotes", aQuoteRequest()]),
    post(shop, "order", async () => {
      const quoted = await shop.post("/v1/quotes", aQuoteRequest());
      return ["/v1/orders", { quote: ((await quoted.json()) as QuoteAnswer).token }];
    }),
    get("customer", "order page", async () => {
      const id = `order-${any(orders)}`;
      return `/orders/${id}/${await shop.shop.seals.orderToken(id)}`;
    }),
    get("maker", "bench", () => "/maker"),
    get("maker", "orders sent", () => "/maker/orders?state=sent"),
    get("maker", "search, reference", () => `/maker/orders?q=${referenceOf(any(orders))}`),
    get("maker", "search, e-mail", () => `/maker/orders?q=customer${any(customersOf(orders))}%40`),
    get("maker", "one order", () => `/maker/orders/${referenceOf(any(orders))}`),
    get("maker", "batches", () => "/maker/batches"),
    get("maker", "work order", () => `/maker/batches/${batches[any(batches.length)]!}/sheets`),
    get("maker", "trace of a jar", () => `/maker/trace?jar=${referenceOf(any(orders))}`),
  ] satisfies Asked[];
}

/** Pages that list products grow with them; all others should not. */
export function requestsByProducts(shop: Shop, { products }: Size, cookie: string) {
  const draw = chanceFrom(products);
  /** One that is for sale. */
  const any = () => `bulk-${10 * Math.floor((draw() * products) / 10) + Math.floor(draw() * 9)}`;
  const get = getter(shop, cookie);
  const { choice } = aQuoteRequest();
  return [
    get("customer", "list of products", () => "/v1/products"),
    get("customer", "product page", () => `/shop/${any()}`),
    get("customer", "offer", () => `/v1/products/${any()}`),
    post(shop, "verdict", async () => ["/v1/verdicts", { product: any(), choice }]),
    post(shop, "quote", async () => ["/v1/quotes", aQuoteRequest({ product: any() })]),
    get("maker", "bench", () => "/maker"),
    get("maker", "products", () => "/maker/products"),
    get("maker", "one product", () => `/maker/products/${any()}`),
    get("maker", "prices", () => "/maker/prices"),
  ] satisfies Asked[];
}

function getter(shop: Shop, cookie: string) {
  return (side: Side, name: string, path: () => string | Promise<string>): Asked => ({
    side,
    name,
    prepare: async () => {
      const chosen = await path();
      const headers = { accept: "text/html", ...(side === "maker" ? { cookie } : {}) };
      return () => shop.request(chosen, { headers });
    },
  });
}

function post(
  shop: Shop,
  name: string,
  sent: () => Promise<readonly [path: string, body: unknown]>,
): Asked {
  return {
    side: "customer",
    name,
    prepare: async () => {
      const [path, body] = await sent();
      const text = JSON.stringify(body);
      return () => shop.post(path, text);
    },
  };
}

function numbersOf(file: string): string[] {
  const sqlite = new SQLite(file, { readonly: true });
  try {
    return sqlite.prepare("select number from batches").pluck().all() as string[];
  } finally {
    sqlite.close();
  }
}
