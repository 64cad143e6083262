/**
 * What is measured, chapter by chapter, in the order it is told.
 */
import { existsSync, readFileSync } from "node:fs";
import { gzipSync } from "node:zlib";
import { answerSpeed } from "./answer-speed.ts";
import { coreSpeeds } from "./core-speed.ts";
import { type Figure, atLeast, figure, sayNumber, under } from "./figures.ts";
import { type Growth, figuresOf, growthBy } from "./growth.ts";
import { medianMicroseconds } from "./judge-speed.ts";
import { makerPageSpeeds } from "./maker-pages.ts";
import { moveShop } from "./move-shop.ts";
import type { Options } from "./options.ts";
import { ROOT, startService } from "./processes.ts";
import { closedRoomSpeed, roomSpeed } from "./room-speed.ts";
import { serviceSpeeds } from "./service-speed.ts";
import { sliderSpeed } from "./slider-speed.ts";
import { storageSpeeds } from "./storage-speed.ts";
import { webhookSpeed } from "./webhook-speed.ts";

type Note = (line: string) => void;

export interface ChapterResult {
  readonly figures: readonly Figure[];
  readonly growth?: Growth;
}

export interface Chapter {
  readonly name: string;
  readonly title: string;
  readonly run: (options: Options, note: Note) => Promise<ChapterResult>;
}

const CHROMIUM = process.env["SOFTSET_CHROMIUM"] ?? "/usr/bin/chromium";
const SCRIPT = `${ROOT}.build/assets/softset.js`;

export const CHAPTERS: readonly Chapter[] = [
  {
    name: "core",
    title: "The core",
    run: async () => ({ figures: [...judging(), ...coreSpeeds()] }),
  },
  { name: "room", title: "The orderable room", run: async () => ({ figures: room() }) },
  {
    ...{ name: "storage", title: "Orders on the disk, every commit flushed" },
    run: async (options) => ({ figures: await storageSpeeds(options) }),
  },
  {
    ...{ name: "service", title: "The service over HTTP" },
    run: async (options) => ({ figures: await serviceSpeeds(options) }),
  },
  {
    ...{ name: "webhook", title: "News of payments" },
    run: async (options) => ({ figures: await webhookSpeed(options) }),
  },
  {
    ...{ name: "page", title: "The storefront, on a processor four times slower" },
    run: async (options, note) => ({
      figures: [...(await inBrowser(options, note)), scriptSize()],
    }),
  },
  {
    ...{ name: "maker", title: "The maker’s pages after many years" },
    run: async (options) => ({ figures: await makerPageSpeeds(options) }),
  },
  { name: "orders", title: "More orders", run: (...how) => growing("orders", ...how) },
  { name: "products", title: "More products", run: (...how) => growing("products", ...how) },
  {
    ...{ name: "move", title: "To the edge and back" },
    run: async (options, note) => ({ figures: await moveShop(options, note) }),
  },
];

function judging(): Figure[] {
  return medianMicroseconds().map(({ what, us }) =>
    figure(what, us, "µs", { promise: under(us, 100, "median ") }),
  );
}

function room(): Figure[] {
  const { seconds, perSecond, judged, p99Ms } = roomSpeed();
  const closed = closedRoomSpeed();
  const wide = `room of 3 bases x 4 places x 6 oils, ${judged} blends`;
  return [
    figure(wide, seconds, "s", { promise: under(seconds, 2) }),
    figure("blends judged for it", perSecond, "/s", { promise: atLeast(perSecond, 10_000) }),
    figure("a slice of it, p99", p99Ms, "ms", { promise: under(p99Ms, 50) }),
    figure(`the same with nothing orderable, ${closed.judged} blends`, closed.seconds, "s", {
      promise: under(closed.seconds, 2),
    }),
  ];
}

/** The storefront page in a Chromium, where there is one. */
async function inBrowser({ isQuick }: Options, note: Note): Promise<Figure[]> {
  if (isQuick || !existsSync(CHROMIUM)) {
    note(isQuick ? "Not in a browser, to be quick." : `No Chromium at ${CHROMIUM}: not measured.`);
    return [];
  }
  const slider = await sliderSpeed(CHROMIUM, readFileSync(SCRIPT, "utf8"));
  const service = await startService();
  try {
    const answers = await answerSpeed(CHROMIUM, `${service.url}/shop/everyday`);
    const { largestPaintMs: paints, moves, answerP98Ms, worstMs, slowest } = answers;
    const paint = paints.at(-1)!;
    const thread = `the page’s thread ${sayNumber(4 * slider.threadMs)} ms a move`;
    return [
      figure(`slider move to painted verdict, ${slider.moves} moves, p95`, slider.p95Ms, "ms", {
        more: `p50 ${sayNumber(slider.medianMs)} ms, ${thread}`,
        promise: under(slider.p95Ms, 16),
      }),
      figure(`largest contentful paint, worst of ${paints.length}`, paint, "ms", {
        promise: under(paint, 1200),
      }),
      figure(`interaction to next paint, ${moves} moves, p98`, answerP98Ms, "ms", {
        more: `worst ${worstMs} ms: ${slowest.slice(0, 3).join(", ")}`,
        promise: under(answerP98Ms, 100),
      }),
    ];
  } finally {
    await service.stop();
  }
}

function scriptSize(): Figure {
  const kib = gzipSync(readFileSync(SCRIPT), { level: 9 }).length / 1024;
  const promise = { words: "at most 30", isKept: kib <= 30 };
  return figure("storefront script with core, gzip", kib, "KiB", { promise });
}

async function growing(by: Growth["by"], options: Options, note: Note): Promise<ChapterResult> {
  const growth = await growthBy(by, options, note);
  return { figures: figuresOf(growth), growth };
}
