/**
 * The service over HTTP, beside Hono and `node:http` answering as many bytes to the same requests without doing
 * anything for them: in turns, each server in a process of its own, the load in another.
 *
 * Nobody says that packed answers are welcome, so none is packed, by us or by the others.
 */
import { residentBytes } from "../helpers/process-use.ts";
import {
  type Figure,
  allOf,
  atLeast,
  atLeastShare,
  figure,
  sayNumber,
  timesOf,
  under,
} from "./figures.ts";
import type { Options } from "./options.ts";
import {
  type Loaded,
  type Server,
  type Service,
  load,
  startBare,
  startService,
} from "./processes.ts";
import {
  ONE_JAR,
  TOGETHER,
  batched,
  forEach,
  paid,
  placed,
  quoted,
  signIn,
} from "./service-acts.ts";

const BATCHES = 20;

interface Servers {
  readonly ours: Service;
  readonly hono: Server;
  readonly node: Server;
}

/** One kind of request. */
interface Asked {
  readonly what: string;
  readonly path: string;
  readonly cookie?: string;
  /** Bodies of a POST: one for all, or one each. */
  readonly bodies?: readonly string[];
  /** Sent once beforehand, for the size of its answer; the first body where that may come again. */
  readonly sample?: string;
  /** Of bare Hono's rate, from 0 to 1. */
  readonly leastShare?: number;
  readonly leastPerSecond?: number;
  readonly connections?: number;
}

/** Requests of customers and makers a second. */
export async function serviceSpeeds({ isQuick }: Options): Promise<Figure[]> {
  const servers: Servers = {
    ours: await startService(),
    hono: await startBare("hono"),
    node: await startBare("node"),
  };
  const seconds = isQuick ? 1 : 2;
  try {
    await new Promise((resolve) => setTimeout(resolve, 1500));
    const resting = memoryMb(servers.ours);
    const promise = under(resting, 120);
    const figures = [figure("server memory at rest", resting, "MB", { promise })];
    for (const asked of await customerRequests(servers.ours, isQuick)) {
      figures.push(await besideOthers(servers, asked, seconds));
    }
    figures.push(...(await workOrders(servers, seconds)));
    const busy = memoryMb(servers.ours);
    return [...figures, figure("server memory after all of these", busy, "MB")];
  } finally {
    await Promise.all(Object.values(servers).map((server: Server) => server.stop()));
  }
}

function memoryMb({ pid }: Server): number {
  return residentBytes(pid) / 2 ** 20;
}

async function customerRequests(ours: Service, isQuick: boolean): Promise<Asked[]> {
  const { product, choice } = ONE_JAR;
  const [verdict, quote] = [{ product, choice }, ONE_JAR].map((body) => JSON.stringify(body));
  const tokens = await quoted(ours, isQuick ? 200 : 3000);
  const [sample, ...orders] = tokens.map((token) => JSON.stringify({ quote: token }));
  return [
    {
      ...{ what: "POST /v1/verdicts", path: "/v1/verdicts", bodies: [verdict!] },
      ...{ leastPerSecond: 5000, leastShare: 0.25 },
    },
    {
      ...{ what: "POST /v1/quotes, every one stored", path: "/v1/quotes", bodies: [quote!] },
      leastPerSecond: 1500,
    },
    {
      what: "POST /v1/orders, judged, stored, till opened",
      path: "/v1/orders",
      ...{ bodies: orders, sample: sample! },
    },
    { what: "GET /v1/products/:product", path: `/v1/products/${product}`, leastShare: 0.7 },
    { what: "GET /shop/:product, the page", path: `/shop/${product}`, leastShare: 0.7 },
  ];
}

/** Work orders as they are issued, one after the other, and as they are opened, some at once. */
async function workOrders(servers: Servers, seconds: number): Promise<Figure[]> {
  const { ours } = servers;
  const cookie = await signIn(ours);
  const orders = await forEach(await placed(ours, BATCHES), paid);
  const times: number[] = [];
  let batch = "";
  for (const order of orders) {
    const began = performance.now();
    batch = await batched(ours, order, cookie);
    times.push(performance.now() - began);
  }
  const { p50, p95 } = timesOf(times);
  const what = `a batch issued with its work order and record, of ${BATCHES}`;
  const opened = { cookie, connections: 2 };
  const sheets = { ...opened, what: "GET the work order, the page", path: `${batch}/sheets` };
  const pdf = { ...opened, what: "GET the work order, PDF", path: `${batch}/sheets-a4.pdf` };
  return [
    figure(what, p50, "ms", { more: `p95 ${sayNumber(p95)} ms` }),
    await besideOthers(servers, sheets, seconds),
    await besideOthers(servers, pdf, seconds),
  ];
}

async function besideOthers(servers: Servers, asked: Asked, seconds: number): Promise<Figure> {
  const bytes = await sizeOf(servers.ours, asked);
  const hono = await crowd(`${servers.hono.url}/bytes/${bytes}`, asked, seconds);
  const ours = await crowd(servers.ours.url + asked.path, asked, seconds);
  const node = await crowd(`${servers.node.url}/bytes/${bytes}`, asked, seconds);
  const promises = [
    ...(asked.leastPerSecond ? [atLeast(ours.perSecond, asked.leastPerSecond)] : []),
    ...(asked.leastShare
      ? [atLeastShare(ours.perSecond, hono.perSecond, asked.leastShare, "bare Hono")]
      : []),
  ];
  return figure(`${asked.what}, ${sayNumber(bytes / 1024)} KiB`, ours.perSecond, "/s", {
    more: `p99 ${sayNumber(ours.p99)} ms`,
    beside: [
      figure("bare Hono", hono.perSecond, "/s"),
      figure("bare node:http", node.perSecond, "/s"),
    ],
    ...allOf(promises),
  });
}

function crowd(
  url: string,
  { bodies, cookie, connections = TOGETHER }: Asked,
  seconds: number,
): Promise<Loaded> {
  const isEach = bodies !== undefined && bodies.length > 1;
  return load({
    kind: "crowd",
    method: bodies ? "POST" : "GET",
    headers: {
      ...(bodies ? { "content-type": "application/json" } : {}),
      ...(cookie ? { cookie } : {}),
    },
    bodies: bodies ?? [""],
    ...{ url, connections, seconds, warmUpSeconds: isEach ? 0 : seconds / 3 },
  });
}

async function sizeOf(
  ours: Service,
  { path, bodies, sample, cookie = "" }: Asked,
): Promise<number> {
  const answer = await fetch(ours.url + path, {
    headers: { cookie, ...(bodies ? { "content-type": "application/json" } : {}) },
    ...(bodies ? { method: "POST", body: sample ?? bodies[0]! } : {}),
  });
  if (!answer.ok) throw new Error(`${path} answers ${answer.status}`);
  return (await answer.arrayBuffer()).byteLength;
}
