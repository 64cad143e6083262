/**
 * Published analyses of single oils against the fatty acid ranges of the library (Goering 1981, Peterson 1983, Ryan
 * 1984, read in a public table of the literature on vegetable oil fuels). Several of the ranges, or single acids of
 * them, are recalled: this is where they are checked from outside. What lies outside is stated.
 */
import { describe, expect, it } from "vitest";
import { recordOf } from "#data/library.ts";

type Acids = Readonly<Record<string, number>>;

const ANALYSES: readonly (readonly [string, string, Acids, readonly string[]])[] = [
  [
    "safflower-oil",
    "Goering 1981",
    { "16:0": 8.6, "18:0": 1.93, "18:1": 11.58, "18:2": 77.89 },
    ["16:0"],
  ],
  ["safflower-oil", "Peterson 1983", { "16:0": 7.1, "18:0": 2.5, "18:1": 13.3, "18:2": 76.6 }, []],
  [
    "high-oleic-safflower-oil",
    "Peterson 1983",
    { "16:0": 5.4, "18:0": 2.1, "18:1": 75.3, "18:2": 16.1 },
    [],
  ],
  [
    "sunflower-oil",
    "Goering 1981",
    { "16:0": 6.08, "18:0": 3.26, "18:1": 16.93, "18:2": 73.73 },
    [],
  ],
  ["sunflower-oil", "Peterson 1983", { "16:0": 6.4, "18:0": 4.2, "18:1": 23.9, "18:2": 61.4 }, []],
  [
    "sunflower-oil",
    "Ryan 1984, deodorised",
    { "16:0": 6, "18:0": 4.8, "18:1": 18.9, "18:2": 67.9, "18:3": 0.3, "22:0": 0.9, "24:0": 0.3 },
    [],
  ],
  [
    "sesame-oil",
    "Goering 1981",
    { "16:0": 13.1, "18:0": 3.92, "18:1": 52.84, "18:2": 30.14 },
    ["16:0", "18:0", "18:1", "18:2"],
  ],
  [
    "castor-oil",
    "Goering 1981",
    { "16:0": 1.09, "18:0": 3.1, "18:1": 4.85, "18:1-OH": 89.6, "18:2": 1.27 },
    ["18:0"],
  ],
];

describe("published analyses of single oils", () => {
  it.each(ANALYSES)(
    "%s (%s) lies inside the ranges, but for what is stated",
    (id, _, acids, out) => {
      const ranges = recordOf(id)!.fattyAcidRanges!.percent;
      const outside = Object.entries(acids).filter(([code, percent]) => {
        const [low, high] = ranges[code] ?? [0, 0];
        return percent < low || percent > high;
      });
      expect(outside.map(([code]) => code)).toEqual(out);
    },
  );
});
