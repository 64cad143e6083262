/**
 * A shop of some size, filled or asked, in a process of its own: so that its memory is its own, and what one size left
 * behind slows no other.
 */
import { statSync } from "node:fs";
import { openTestShop } from "../helpers/shop.ts";
import { fillBigShop } from "./big-shop.ts";
import { type Times, medianOf, timesOf } from "./figures.ts";
import { type Asked, type Size, requestsByOrders, requestsByProducts } from "./growth-requests.ts";

export interface FillTask extends Size {
  readonly kind: "fill";
  readonly file: string;
}

export interface AskTask extends Size {
  readonly kind: "ask";
  readonly file: string;
  readonly by: "orders" | "products";
  /** Everything is asked in turn so often, */
  readonly rounds: number;
  /** and each so often at once. */
  readonly each: number;
}

export interface Filled {
  readonly seconds: number;
  readonly fileMb: number;
}

/** The middle of what the rounds gave, of each percentile. */
export interface AskedTimes extends Times {
  readonly name: string;
  readonly side: Asked["side"];
}

export interface Answered {
  readonly times: readonly AskedTimes[];
  readonly memoryMb: number;
}

const WARM_UP = 60;

process.once("message", (task: FillTask | AskTask) => {
  const work: Promise<Filled | Answered> = task.kind === "fill" ? fill(task) : ask(task);
  void work.then((told) => process.send!(told, () => process.disconnect()));
});

async function fill({ file, orders, products }: FillTask): Promise<Filled> {
  (await openTestShop({}, file)).close();
  const began = performance.now();
  fillBigShop(file, Math.floor(Date.now() / 1000), orders, products);
  const seconds = (performance.now() - began) / 1000;
  return { seconds, fileMb: statSync(file).size / 2 ** 20 };
}

async function ask({ file, by, rounds, each, ...size }: AskTask): Promise<Answered> {
  const shop = await openTestShop({}, file);
  const cookie = await shop.signIn();
  const all =
    by === "orders"
      ? requestsByOrders(shop, file, size, cookie)
      : requestsByProducts(shop, size, cookie);
  const timesOfMany = async ({ name, prepare }: Asked, count: number) => {
    const times: number[] = [];
    for (let at = 0; at < count; at++) {
      // Nothing that is kept for a second helps.
      shop.pass(1);
      const request = await prepare();
      const began = performance.now();
      const answer = await request();
      await answer.arrayBuffer();
      times.push(performance.now() - began);
      if (!answer.ok) throw new Error(`${name} answers ${answer.status}`);
    }
    return times;
  };
  for (const asked of all) await timesOfMany(asked, Math.min(WARM_UP, each));
  const found = all.map((): Times[] => []);
  for (let round = 0; round < rounds; round++) {
    for (const [at, asked] of all.entries())
      found[at]!.push(timesOf(await timesOfMany(asked, each)));
  }
  shop.close();
  const middle = (times: readonly Times[], key: keyof Times) =>
    medianOf(times.map((it) => it[key]));
  return {
    times: all.map(({ name, side }, at) => {
      const [p50, p95, p99] = (["p50", "p95", "p99"] as const).map((key) =>
        middle(found[at]!, key),
      );
      return { name, side, p50: p50!, p95: p95!, p99: p99! };
    }),
    memoryMb: process.memoryUsage.rss() / 2 ** 20,
  };
}
