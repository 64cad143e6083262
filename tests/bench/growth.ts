/**
 * How answers, memory and file grow with orders and with products.
 */
import { fork } from "node:child_process";
import { type Figure, figure, sayNumber } from "./figures.ts";
import type { Answered, AskTask, AskedTimes, FillTask, Filled } from "./growth-process.ts";
import type { Options } from "./options.ts";
import { ROOT, heard, placeForDatabase, removeDatabase } from "./processes.ts";

/** p99 may be so many times as long in the largest shop as in the smallest. */
const FLAT_WITHIN = 1.5;
const PRODUCTS = 10;
const ORDERS = 10_000;

export interface GrowthPoint {
  /** Orders or products in the shop. */
  readonly count: number;
  readonly fillSeconds: number;
  readonly fileMb: number;
  /** Of a process that has answered all of these. */
  readonly memoryMb: number;
  readonly times: readonly AskedTimes[];
}

export interface Growth {
  readonly by: "orders" | "products";
  readonly points: readonly GrowthPoint[];
}

/** @param note is told what is being done, as a shop of a million takes its time */
export async function growthBy(
  by: Growth["by"],
  { isQuick }: Options,
  note: (line: string) => void,
): Promise<Growth> {
  const counts = countsOf(by, isQuick);
  const [rounds, each] = isQuick ? [1, 20] : [5, 100];
  const points: GrowthPoint[] = [];
  for (const count of counts) {
    const file = placeForDatabase();
    const size =
      by === "orders" ? { orders: count, products: PRODUCTS } : { orders: ORDERS, products: count };
    try {
      const filled = await carryOut<Filled>({ kind: "fill", file, ...size });
      const { seconds: fillSeconds, fileMb } = filled;
      const told = await carryOut<Answered>({ kind: "ask", file, by, rounds, each, ...size });
      points.push({ count, fillSeconds, fileMb, ...told });
      const [mb, filledIn] = [sayNumber(fileMb), sayNumber(fillSeconds)];
      note(`${sayNumber(count)} ${by}: a file of ${mb} MB, filled in ${filledIn} s`);
    } finally {
      removeDatabase(file);
    }
  }
  return { by, points };
}

function countsOf(by: Growth["by"], isQuick: boolean): readonly number[] {
  if (by === "products") return isQuick ? [10, 100] : [10, 100, 1000];
  return isQuick ? [1000, 10_000] : [1000, 10_000, 100_000, 1_000_000];
}

async function carryOut<Told>(task: FillTask | AskTask): Promise<Told> {
  const child = fork(`${ROOT}.build/bench/growth-process.mjs`);
  child.send(task);
  return await heard<Told>(child);
}

/** Each request in the largest shop beside the same in the smallest. */
export function figuresOf({ by, points }: Growth): Figure[] {
  const [least, most] = [points[0]!, points.at(-1)!];
  return most.times.map((last, at) => {
    const first = least.times[at]!;
    const grown = last.p99 / first.p99;
    const words = `p99 within ${FLAT_WITHIN} times: ${grown.toFixed(2)}`;
    const what = `${last.side}: ${last.name}, ${sayNumber(most.count)} ${by}, p99`;
    return figure(what, last.p99, "ms", {
      more: `p50 ${sayNumber(last.p50)} ms`,
      beside: [figure(`${sayNumber(least.count)} ${by}`, first.p99, "ms")],
      ...(by === "orders" ? { promise: { words, isKept: grown <= FLAT_WITHIN } } : {}),
      isDetail: true,
    });
  });
}
