/**
 * The very bundle that would be deployed: what is in it, and one jar from the product list to the printed work order.
 */
import { builtinModules } from "node:module";
import { gzipSync } from "node:zlib";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { OrderAnswer, Problem, QuoteAnswer } from "#core/wire.ts";
import { aQuoteRequest, openTestShop } from "../helpers/shop.ts";
import { eventEndpointsIn } from "#service/storage/event-endpoints.ts";
import { messagesIn } from "#service/storage/messages.ts";
import { SECRET, SHOP, startReceiver } from "../service/messages/a-told-shop.ts";
import { describeDoor } from "./door.ts";
import { bundleWorker, startWorker } from "./worker.ts";

const GZIP_MOST_KIB = 600;
const CONTENT_KINDS = {
  "softset.js": "text/javascript; charset=utf-8",
  "softset.nearest.js": "text/javascript; charset=utf-8",
  "shop.css": "text/css; charset=utf-8",
  "plex-400.woff2": "font/woff2",
};

let bundle: ReturnType<typeof bundleWorker>;
let worker: Awaited<ReturnType<typeof startWorker>>;
beforeAll(async () => {
  bundle = bundleWorker();
  worker = await startWorker(bundle.text, undefined, { SOFTSET_EVENTS_TO_LOOPBACK: "yes" });
}, 120_000);
afterAll(() => worker?.close());

describe("the bundle of the Worker", () => {
  it(`is at most ${GZIP_MOST_KIB} KiB when compressed`, () => {
    expect(gzipSync(bundle.text).byteLength / 1024).toBeLessThan(GZIP_MOST_KIB);
  });

  it("holds nothing of Node, and of Stripe only what is made for workers", () => {
    const inputs = Object.keys(bundle.meta.inputs);
    expect(inputs).toContain("service/edge.ts");
    expect(inputs).toContain("node_modules/stripe/esm/stripe.esm.worker.js");
    const strange = /better-sqlite3|node-server|node-database|service\/node\.ts|stripe\.\w+\.node/;
    expect(inputs.filter((file) => strange.test(file))).toEqual([]);
    expect(Object.values(bundle.meta.outputs).flatMap((output) => output.imports)).toEqual([]);
    const asked = [...bundle.text.matchAll(/\brequire\(["']([^"']+)["']\)/g)];
    expect(asked.filter(([, name]) => builtinModules.includes(name!))).toEqual([]);
    expect(bundle.text).not.toMatch(/["']node:\w+["']/);
  });
});

const get = (path: string, cookie = "") =>
  worker.request(path, { headers: { accept: "text/html", cookie } });

const send = (path: string, body: unknown) =>
  worker.request(path, {
    method: "POST",
    headers: { "content-type": "application/json" },
    body: JSON.stringify(body),
  });

/** Press a button on one of our own pages. */
const press = (path: string, fields: Record<string, string> = {}, cookie = "") =>
  worker.request(path, {
    method: "POST",
    headers: {
      "sec-fetch-site": "same-origin",
      "content-type": "application/x-www-form-urlencoded",
      cookie,
    },
    body: new URLSearchParams(fields).toString(),
  });

/** To twelve digits: the last bits of a logarithm differ from one version of V8 to the next. */
async function figuresOf(answer: { text(): Promise<string> }): Promise<unknown> {
  return JSON.parse(await answer.text(), (_, value: unknown) =>
    typeof value === "number" ? Number(value.toPrecision(12)) : value,
  );
}

async function placeOrder(): Promise<OrderAnswer> {
  const quoted = await send("/v1/quotes", aQuoteRequest());
  expect(quoted.status).toBe(201);
  const { token } = (await quoted.json()) as QuoteAnswer;
  const twins = await Promise.all([1, 2].map(() => send("/v1/orders", { quote: token })));
  expect(twins.map(({ status }) => status).sort()).toEqual([200, 201]);
  const [order, again] = (await Promise.all(twins.map((twin) => twin.json()))) as OrderAnswer[];
  expect(again).toEqual(order);
  return order!;
}

describe("the shop in workerd", () => {
  it("offers, judges and prices as the shop on Node does", async () => {
    const node = await openTestShop();
    const { product, choice } = aQuoteRequest();
    for (const path of ["/v1/products", `/v1/products/${product}`]) {
      expect(await (await get(path)).json()).toEqual(await (await node.request(path)).json());
    }
    const verdict = await figuresOf(await send("/v1/verdicts", { product, choice }));
    expect(verdict).toMatchObject({ verdict: "orderable" });
    expect(verdict).toEqual(await figuresOf(await node.post("/v1/verdicts", { product, choice })));
    const { quote } = (await (await send("/v1/quotes", aQuoteRequest())).json()) as QuoteAnswer;
    const there = (await node.quote()).quote;
    expect([quote.totalMinor, quote.taxMinor]).toEqual([there.totalMinor, there.taxMinor]);
    expect(quote.parts).toEqual(there.parts);
    node.close();
  });

  it("answers every quote of a crowd, waves after waves, none waiting for another's request", async () => {
    const statuses: number[] = [];
    for (let wave = 0; wave < 3; wave++) {
      const crowd = Array.from({ length: 60 }, async (_, at) => {
        await new Promise((resolve) => setTimeout(resolve, at % 7));
        return (await send("/v1/quotes", aQuoteRequest())).status;
      });
      statuses.push(...(await Promise.all(crowd)));
    }
    expect(statuses.filter((status) => status !== 201)).toEqual([]);
  }, 20_000);

  it("takes a jar from the order to the work order", async () => {
    const order = await placeOrder();
    const page = await (await get(order.orderUrl)).text();
    expect(page).toContain(order.reference);
    expect((await get(order.payUrl!)).status).toBe(200);
    const back = await press(`${new URL(order.payUrl!).pathname}/pay`);
    expect(back.status).toBe(303);
    const after = await get(back.headers.get("location")!);
    expect([after.status, after.headers.get("cache-control")]).toEqual([200, "no-store"]);

    expect((await get("/maker")).headers.get("location")).toBe("/maker/enter?to=%2Fmaker");
    const entered = await press(worker.link);
    const cookie = entered.headers.get("set-cookie")!.split(";")[0]!;
    expect((await press(worker.link)).status).toBe(410);
    expect(await (await get("/maker", cookie)).text()).toContain(order.reference);
    const id = new URL(order.orderUrl).pathname.split("/")[2]!;
    const issued = await press("/maker/batches", { order: id }, cookie);
    expect(issued.status).toBe(303);
    const sheet = await (await get(issued.headers.get("location")!, cookie)).text();
    expect(sheet).toContain(order.reference);
    expect(sheet).toMatch(/shea butter/i);
    expect((await press("/maker/batches", { order: id }, cookie)).status).toBe(422);
    const state = await get(order.orderUrl.replace("/orders", "/v1/orders"));
    expect(await state.json()).toMatchObject({ state: "in-making", reference: order.reference });
  });

  it("refuses what it cannot read with a problem, and counts a body that comes in pieces", async () => {
    const refused = await send("/v1/quotes", { product: "everyday" });
    expect(refused.status).toBe(422);
    expect(((await refused.json()) as Problem).code).toBe("request.body.invalid");
    const altered = await send("/v1/orders", { quote: "a.b.c" });
    expect(((await altered.json()) as Problem).code).toBe("order.quote.altered");
    const pieces = new ReadableStream({
      start(controller) {
        for (let n = 0; n < 70; n++) controller.enqueue(new Uint8Array(1024).fill(32));
        controller.close();
      },
    });
    const headers = { "content-type": "application/json" };
    const large = { method: "POST", headers, body: pieces as never, duplex: "half" as const };
    expect((await worker.request("/v1/verdicts", large)).status).toBe(413);
  });

  it("hands out files through the app, with its headers, and nothing beside them", async () => {
    for (const [name, kind] of Object.entries(CONTENT_KINDS)) {
      const file = await get(`/assets/${name}`);
      expect([file.status, file.headers.get("content-type")]).toEqual([200, kind]);
      expect(file.headers.get("cross-origin-resource-policy")).toBe("cross-origin");
      expect((await file.arrayBuffer()).byteLength).toBeGreaterThan(1000);
      expect((await get(`/${name}`)).status).toBe(404);
    }
    expect((await get("/assets/..%2f..%2fwrangler.toml")).status).toBe(404);
  });

  it("delivers by cron what waits, and leaves alone what is not due", async () => {
    const receiver = await startReceiver();
    const { db } = worker;
    const address = { url: receiver.url, secret: SECRET };
    await eventEndpointsIn(db).add({ id: "host", shopId: SHOP, createdAt: 0, ...address });
    const messages = messagesIn(db);
    const now = Math.floor(Date.now() / 1000);
    for (const [id, nextAt] of [
      ["msg_due", now],
      ["msg_later", now + 600],
    ] as const) {
      await messages.add({
        ...{ id, once: id, shopId: SHOP, kind: "event", purpose: "trial", endpointId: "host" },
        ...{ body: "{}", state: "waiting", nextAt, createdAt: now },
      });
    }
    expect(await worker.cron()).toBe("ok");
    expect(receiver.received.map(({ headers }) => headers["webhook-id"])).toEqual(["msg_due"]);
    expect((await messages.byId(SHOP, "msg_due"))?.state).toBe("sent");
    expect((await messages.byId(SHOP, "msg_later"))?.state).toBe("waiting");
    await receiver.close();
  });
});

describeDoor(() => bundle.text);
