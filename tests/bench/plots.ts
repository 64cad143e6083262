/**
 * Which pictures are drawn of a run, and their files.
 */
import { type Bar, barPlot } from "./bar-plot.ts";
import { type Figure, sayNumber } from "./figures.ts";
import type { Growth } from "./growth.ts";
import { panelPlot } from "./panel-plot.ts";

export interface Plot {
  readonly file: string;
  /** What it shows, for whoever does not see it. */
  readonly words: string;
  readonly svg: string;
}

/** @param figures those of the service over HTTP, which stand beside bare Hono */
export function plotsOf(figures: readonly Figure[], growths: readonly Growth[]): Plot[] {
  return [...ratePlot(figures), ...growths.flatMap(growthPlots)];
}

/** Rates as shares of bare Hono's own; nothing when none was measured. */
function ratePlot(figures: readonly Figure[]): Plot[] {
  const bars = figures.flatMap(({ what, value, beside = [], promise }): Bar[] => {
    const hono = beside.find((each) => each.what === "bare Hono" && each.unit === "/s");
    if (!hono) return [];
    const [, promised] = /at least (\d+) % of bare Hono/.exec(promise?.words ?? "") ?? [];
    const share = value / hono.value;
    return [
      {
        name: what.replace(/, [\d.]+ KiB$/, ""),
        value: 100 * share,
        words: `${sayNumber(100 * share)} %, ${sayNumber(value)} a second`,
        ...(promised ? { promised: Number(promised) } : {}),
        isMain: true,
      },
    ];
  });
  if (bars.length === 0) return [];
  const title = "How near the service comes to a server that does nothing";
  const words = "Requests a second, of what bare Hono answers with as many bytes. ▾ is promised.";
  const ticks = [0, 25, 50, 75, 100].map((at) => ({ at, name: `${at} %` }));
  return [{ file: "rates.svg", words: title, svg: barPlot({ title, words, ticks, bars }) }];
}

const KINDS = ["p50", "p95", "p99"] as const;

function growthPlots({ by, points }: Growth): Plot[] {
  const along = points.map(({ count }) => ({ at: count, name: short(count) }));
  const alongWords = `${by} in the shop`;
  const sides = by === "orders" ? (["customer", "maker"] as const) : [undefined];
  const times = sides.map((side): Plot => {
    const whose = side === "customer" ? "A customer’s" : side ? "The maker’s" : "The main";
    const title = `${whose} requests as the ${by} grow`;
    const names = points[0]!.times.filter((each) => !side || each.side === side);
    const panels = names.map(({ name, side: of }) => ({
      name: side ? name : `${name} (${of})`,
      lines: KINDS.map((kind) =>
        points.map(
          ({ times: all }) => all.find((each) => each.name === name && each.side === of)![kind],
        ),
      ),
    }));
    const plot = { title, along, alongWords, kinds: KINDS, panels, columns: 3, say: sayTick };
    const words = "In one process, without a network. The figures at the ends are p99.";
    const svg = panelPlot({ ...plot, words, unit: "milliseconds" });
    return { file: `growth-${by}${side ? `-${side}` : ""}.svg`, words: title, svg };
  });
  const title = `Memory and file as the ${by} grow`;
  const svg = panelPlot({
    ...{ title, along, alongWords, kinds: ["size"], columns: 2, say: sayTick },
    ...{
      words: "Memory is that of the process that answered everything above.",
      unit: "megabytes",
    },
    panels: [
      { name: "memory", lines: [points.map(({ memoryMb }) => memoryMb)] },
      { name: "database file", lines: [points.map(({ fileMb }) => fileMb)] },
    ],
  });
  return [...times, { file: `growth-${by}-size.svg`, words: title, svg }];
}

/** "1k", "1M" */
function short(count: number): string {
  if (count >= 1e6) return `${count / 1e6}M`;
  return count >= 1000 ? `${count / 1000}k` : String(count);
}

function sayTick(value: number): string {
  return value < 1 ? String(Number(value.toPrecision(2))) : sayNumber(value).replace(/\.0$/, "");
}
