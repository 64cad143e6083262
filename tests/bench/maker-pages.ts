/**
 * How long every page of the maker's side takes in a shop after many years: asked in this process, one page after the
 * other, by the owner. The pages are those of the route table; one without samples here stops the bench.
 */
import { openTestShop } from "../helpers/shop.ts";
import { customersOf, referenceOf } from "./big-orders.ts";
import { BIG, fillBigShop } from "./big-shop.ts";
import { type Figure, type Times, figure, sayNumber, timesOf, under } from "./figures.ts";
import type { Options } from "./options.ts";
import { placeForDatabase, removeDatabase } from "./processes.ts";

/** So many of each page, fewer where they take longer than this in all [ms]. */
const REQUESTS = 200;
const LONG_ENOUGH_MS = 500;
const LEAST = 40;
const WARM_UP = 10;

type Shop = Awaited<ReturnType<typeof openTestShop>>;

export interface PageSpeed {
  readonly path: string;
  /** As the clock on the wall has it, and what the processor did. */
  readonly wall: Times;
  readonly cpu: Times;
}

/** A shop with so many orders and all that belongs to them, the demo shop's own rows among it, page by page. */
export async function makerPageSpeeds({ isQuick }: Options): Promise<Figure[]> {
  const orders = isQuick ? 2000 : BIG.orders;
  const file = placeForDatabase();
  (await openTestShop({}, file)).close();
  fillBigShop(file, Math.floor(Date.now() / 1000), orders);
  const shop = await openTestShop({}, file);
  try {
    const cookie = await shop.signIn();
    const speeds: PageSpeed[] = [];
    const most = isQuick ? LEAST : REQUESTS;
    for (const path of await pathsOf(shop, orders)) {
      speeds.push(await speedOf(shop, path, cookie, most));
    }
    return figuresOf(speeds, orders);
  } finally {
    shop.close();
    removeDatabase(file);
  }
}

function figuresOf(speeds: readonly PageSpeed[], orders: number): Figure[] {
  const slowest = [...speeds].sort((one, other) => other.wall.p99 - one.wall.p99)[0]!;
  const page = (what: string, { wall, cpu }: PageSpeed, more: readonly string[] = []) =>
    figure(what, wall.p99, "ms", {
      more: [
        ...more,
        `p50 ${sayNumber(wall.p50)} ms`,
        `of the processor p99 ${sayNumber(cpu.p99)} ms`,
      ].join("; "),
      promise: under(wall.p99, 100),
    });
  const all = `slowest of ${speeds.length} maker pages with ${sayNumber(orders)} orders, p99`;
  return [
    page(all, slowest, [slowest.path]),
    ...speeds.map((speed) => ({
      ...page(speed.path.slice(0, 57), speed),
      isDetail: true as const,
    })),
  ];
}

async function speedOf(shop: Shop, path: string, cookie: string, most: number): Promise<PageSpeed> {
  const [walls, cpus]: [number[], number[]] = [[], []];
  const startedAt = performance.now();
  for (let at = -WARM_UP; at < most; at++) {
    if (at >= LEAST && performance.now() - startedAt > LONG_ENOUGH_MS) break;
    const [before, began] = [process.cpuUsage(), performance.now()];
    const answer = await shop.request(path, { headers: { cookie, accept: "text/html" } });
    await answer.text();
    const [wall, { user, system }] = [performance.now() - began, process.cpuUsage(before)];
    const isGood = answer.status === 200 || (path === "/maker/enter" && answer.status === 303);
    if (!isGood) throw new Error(`${path} answers ${answer.status}`);
    if (at < 0) continue;
    walls.push(wall);
    cpus.push((user + system) / 1000);
  }
  return { path, wall: timesOf(walls), cpu: timesOf(cpus) };
}

/** Whole tables and papers to keep, and a table sent in, grow with what is in them and are no pages of the book. */
const NO_PAGES =
  /\.pdf|\/labels\/(printed\/|page\.css)|^\/maker\/shelf\/files\/.|^\/maker\/enter\/:|\/progress$|\/zones\/:id$/;

/** Every GET route of the maker's side with sampled addresses. */
export async function pathsOf(shop: Shop, orders: number = BIG.orders): Promise<string[]> {
  const samples = await samplesOf(shop, orders);
  const routes = shop.app.routes.filter(
    ({ method, path }) => method === "GET" && path.startsWith("/maker"),
  );
  return [...new Set(routes.map(({ path }) => path))].flatMap((route) => {
    const found = samples[route];
    if (!found && NO_PAGES.test(route)) return [];
    if (!found) throw new Error(`${route} has no sample: name one in this file`);
    return [...found];
  });
}

/** First, middle and last of what is many, and searches that hit, miss and hit much. */
async function samplesOf(
  { shop }: Shop,
  orders: number,
): Promise<Record<string, readonly string[]>> {
  const id = "quillfen";
  const batches = await shop.batches.page(id, 40);
  const open = batches.find(({ state }) => state === "open")!.number;
  const made = batches.find(({ state }) => state === "made")!.number;
  const after = { most: 60, newestFirst: true };
  const sent = (await shop.orderLists.page(id, "sent", after)).at(-1)!;
  const waiting = (await shop.orders.waiting(id, 8)).map((row) => `order=${row.id}`).join("&");
  const [first, middle, last] = [0, orders / 2, orders - 1].map(referenceOf);
  const nobodyElse = `customer${customersOf(orders) - 1}@`;
  const early = `${batches.at(-1)!.issuedAt}.${batches.at(-1)!.number}`;
  const each = (rest: string, ids: readonly string[]) => ids.map((one) => `${rest}${one}`);
  const ofProducts = (sheet: string) =>
    ["everyday", "bulk-0", `bulk-${BIG.products - 1}`].map(
      (one) => `/maker/products/${one}${sheet}`,
    );
  const shelf = ["shea-butter", "bulk-0", `bulk-${BIG.ingredients - 1}`];
  const lots = ["staple-0-0", "staple-0-199", `lot-${BIG.lots - 1}`];
  const search = (words: readonly string[]) =>
    words.map((word) => `?q=${encodeURIComponent(word)}`);
  return {
    "/maker": ["/maker"],
    "/maker/enter": ["/maker/enter"],
    "/maker/orders": [
      "/maker/orders",
      ...each("/maker/orders?state=", ["held", "paid", "made", "sent", "cancelled"]),
      ...each("/maker/orders?state=", ["refunded", "expired"]),
      `/maker/orders?state=sent&after=${sent.placedAt}.${sent.id}`,
      ...each("/maker/orders", search([last!, "Customer 7", nobodyElse, "nobody", "R", "c"])),
      `/maker/orders?q=c&from=1.${orders / 2}.Customer 5`,
      ...each("/maker/orders?before=now&q=", ["Customer 7", "nobody", "e"]),
    ],
    "/maker/orders/:reference": each("/maker/orders/", [first!, middle!, last!]),
    "/maker/orders/:reference/data.json": [`/maker/orders/${middle!}/data.json`],
    "/maker/batches": ["/maker/batches", `/maker/batches?before=${early}`],
    "/maker/batches/new": [`/maker/batches/new?${waiting}`],
    "/maker/batches/:number": each("/maker/batches/", [open, made]),
    "/maker/batches/:number/sheets": each("/maker/batches/", [`${open}/sheets`, `${made}/sheets`]),
    "/maker/batches/:number/close": [`/maker/batches/${open}/close`],
    ...Object.fromEntries(
      ["record", "record.json", "contents", "labels"].map((sheet) => [
        `/maker/batches/:number/${sheet}`,
        each("/maker/batches/", [`${open}/${sheet}`, `${made}/${sheet}`]),
      ]),
    ),
    "/maker/batches/:number/correction/:run": [`/maker/batches/${open}/correction/1`],
    "/maker/trace": [
      "/maker/trace",
      ...each("/maker/trace?lot=", lots),
      ...each("/maker/trace?jar=", [middle!, made]),
      "/maker/trace?code=S0-100",
    ],
    "/maker/trace/recall.csv": ["/maker/trace/recall.csv?lot=staple-0-100"],
    "/maker/kitchen": ["/maker/kitchen"],
    "/maker/prices": ["/maker/prices"],
    "/maker/products": [
      "/maker/products",
      ...each("/maker/products", search(["no. 1", "nothing"])),
      "/maker/products?show=draft",
    ],
    "/maker/products/new": ["/maker/products/new"],
    ...Object.fromEntries(
      ["", "/words", "/oils", "/bases", "/additives", "/jars", "/label", "/rules", "/price"]
        .concat(["/room", "/stand-in", "/publish"])
        .flatMap((sheet) =>
          [":id", ":product"].map((name) => [`/maker/products/${name}${sheet}`, ofProducts(sheet)]),
        ),
    ),
    "/maker/products/:id/bases/:base": ofProducts("/bases/soft-shea"),
    "/maker/products/:id/versions/:version": ofProducts("/versions/1"),
    "/maker/shelf": ["/maker/shelf", "/maker/shelf?after=bulk-500"].concat(
      each("/maker/shelf", search(["no. 999", "supplier", "nothing at all", "shea"])),
    ),
    "/maker/shelf/start": ["/maker/shelf/start"],
    "/maker/shelf/new": ["/maker/shelf/new"],
    "/maker/shelf/:id": each("/maker/shelf/", shelf),
    "/maker/shelf/:id/edit": each("/maker/shelf/", shelf).map((path) => `${path}/edit`),
    "/maker/shelf/:id/receive": ["/maker/shelf/shea-butter/receive"],
    "/maker/shelf/lots/:id": each("/maker/shelf/lots/", lots),
    "/maker/shelf/lots/:id/edit": each("/maker/shelf/lots/", lots).map((path) => `${path}/edit`),
    "/maker/shelf/files": ["/maker/shelf/files"],
    "/maker/you": ["/maker/you"],
    "/maker/messages": ["/maker/messages"],
    "/maker/shop": ["/maker/shop"],
    "/maker/shop/people": ["/maker/shop/people"],
    "/maker/shop/keys": ["/maker/shop/keys"],
    "/maker/shop/carriage": ["/maker/shop/carriage"],
    "/maker/shop/labels": ["/maker/shop/labels"],
    "/maker/shop/zones/new": ["/maker/shop/zones/new"],
  };
}
