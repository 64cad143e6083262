/** What a run tells of its figures: in words, in the README, in pictures. */
import { describe, expect, it } from "vitest";
import { barPlot } from "./bar-plot.ts";
import { allOf, atLeast, atLeastShare, sayNumber, timesOf, under } from "./figures.ts";
import { type Growth, figuresOf } from "./growth.ts";
import { readOptions } from "./options.ts";
import { plotsOf } from "./plots.ts";
import { BEGIN, END, lineOf, placedIn, readmeWords } from "./results.ts";

const hundred = Array.from({ length: 100 }, (_, at) => 100 - at);

function aGrowth(p99: readonly number[]): Growth {
  const counts = [1000, 1_000_000];
  return {
    by: "orders",
    points: counts.map((count, at) => ({
      ...{ count, fillSeconds: 1, fileMb: 10 * (at + 1), memoryMb: 200 },
      times: [{ name: "order page", side: "customer", p50: 1, p95: 2, p99: p99[at]! }],
    })),
  };
}

describe("figures", () => {
  it("are percentiles by the nearest rank, whatever the order they came in", () => {
    expect(timesOf(hundred)).toEqual({ p50: 50, p95: 95, p99: 99 });
    expect(timesOf([7])).toEqual({ p50: 7, p95: 7, p99: 7 });
  });

  it.each([
    [1_234_567, "1\u00a0234\u00a0567"],
    [999.6, "1\u00a0000"],
    [12.34, "12"],
    [3.14, "3.1"],
    [0.256, "0.26"],
    [0, "0"],
  ])("are told as precisely as they are worth: %d", (value, words) => {
    expect(sayNumber(value)).toBe(words);
  });

  it("keep a promise at its limit and miss it beside", () => {
    expect([atLeast(10, 10), atLeast(9.9, 10)].map(({ isKept }) => isKept)).toEqual([true, false]);
    expect([under(19, 20), under(20, 20)].map(({ isKept }) => isKept)).toEqual([true, false]);
    const share = atLeastShare(699, 1000, 0.7, "bare Hono");
    expect(share).toEqual({ words: "at least 70 % of bare Hono: 70 %", isKept: false });
    expect(allOf([atLeast(10, 10), share]).promise?.isKept).toBe(false);
    expect(allOf([])).toEqual({});
  });

  it("of growth hold the largest shop against the smallest", () => {
    const kept = (p99: readonly number[]) => figuresOf(aGrowth(p99))[0]!.promise?.isKept;
    expect([kept([2, 3]), kept([2, 3.1])]).toEqual([true, false]);
  });
});

describe("what is asked for", () => {
  it("is read, and a slip is answered with what can be said", () => {
    const known = ["core", "move"];
    expect(readOptions([], known)).toEqual({ isQuick: false, only: [] });
    const both = readOptions(["--quick", "--only=core,move"], known);
    expect(both).toEqual({ isQuick: true, only: ["core", "move"] });
    expect(() => readOptions(["--only=core,cors"], known)).toThrow("There is no chapter “cors”");
    expect(() => readOptions(["--fast"], known)).toThrow("--quick");
  });
});

describe("the README", () => {
  const figure = {
    ...{ what: "POST | /v1", value: 900, unit: "/s" as const, more: "p99 12 ms" },
    beside: [{ what: "bare Hono", value: 1000, unit: "/s" as const }],
    promise: atLeast(900, 1500),
  };
  const chapters = [
    {
      name: "service",
      title: "The service",
      figures: [figure, { ...figure, isDetail: true as const }],
    },
  ];
  const results = {
    ...{ day: "2026-01-05", machine: "2 cores", minutes: 9, isQuick: false, chapters },
    growths: [aGrowth([2, 3])],
  };

  it("holds each figure once beside its limit, and says which promises were missed", () => {
    const words = readmeWords(results, [{ file: "a.svg", words: "Growth", svg: "" }], "pictures");
    const row =
      "| POST \\| /v1 | 900/s; p99 12 ms | bare Hono 1\u00a0000/s | **missed:** at least 1\u00a0500 |";
    expect(words.split(row)).toHaveLength(2);
    expect(words).toContain("0 of 2 promises were kept");
    expect(words).toContain("| customer: order page | 1.0 / 2.0 | 1.0 / 3.0 |");
    expect(words).toContain("![Growth](pictures/a.svg)");
    expect(lineOf(figure)).toMatch(/^! POST/);
  });

  it("is changed between its marks alone, as often as one likes", () => {
    const readme = `Before\n\n${BEGIN}\n\nold\n\n${END}\n\nAfter`;
    const once = placedIn(readme, "new");
    expect(once).toBe(`Before\n\n${BEGIN}\n\nnew\n\n${END}\n\nAfter`);
    expect(placedIn(once, "new")).toBe(once);
    expect(() => placedIn(`${END} ${BEGIN}`, "new")).toThrow("README");
  });
});

describe("pictures", () => {
  it("draw every point inside their paper", () => {
    const { svg } = plotsOf([], [aGrowth([2, 3])])[0]!;
    const [, width, height] = /viewBox="0 0 (\d+) (\d+)"/.exec(svg)!;
    const circles = [...svg.matchAll(/cx="([\d.]+)" cy="([\d.]+)"/g)];
    expect(circles).toHaveLength(2);
    for (const [, x, y] of circles) {
      expect(Number(x)).toBeGreaterThan(0);
      expect(Number(x)).toBeLessThan(Number(width));
      expect(Number(y)).toBeGreaterThan(0);
      expect(Number(y)).toBeLessThan(Number(height));
    }
    // More is higher up.
    expect(Number(circles[1]![2])).toBeLessThan(Number(circles[0]![2]));
  });

  it("fill no line and frame no bar in the dark either, whose colours come later", () => {
    const { svg } = plotsOf([], [aGrowth([2, 3])])[0]!;
    const [light, dark] = svg.split("@media (prefers-color-scheme: dark)");
    // A name with its element outranks a bare class, wherever that stands.
    expect(light).toMatch(/path\.line \{ fill: none;.*rect\.bar \{ stroke: none;/s);
    expect(dark!.slice(0, dark!.indexOf("</style>"))).not.toMatch(/path|rect/);
  });

  it("tell their words to whoever does not see them, and keep strange letters out of the markup", () => {
    const bars = [{ name: 'a < b & "c"', value: 50, words: "50 %", isMain: true }];
    const ticks = [0, 100].map((at) => ({ at, name: `${at} %` }));
    const svg = barPlot({ title: "Rates", words: "How to read it", ticks, bars });
    expect(svg).toContain("a &lt; b &amp; &quot;c&quot;");
    expect(svg).toContain('<title id="title">Rates</title>');
    expect(svg).toContain("prefers-color-scheme: dark");
  });
});
