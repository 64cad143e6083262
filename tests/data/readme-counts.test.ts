/**
 * The counts in `data/README.md` are those of the library: prose goes stale where nobody counts.
 */
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { INGREDIENT_IDS, recordOf } from "#data/library.ts";
import { DERMAL_LIMITS } from "#data/library/dermal-limits.ts";
import { SOURCES, type SourceKey } from "#data/sources.ts";
import { figuresOf } from "./walk-figures.ts";

const README = readFileSync(new URL("../../data/README.md", import.meta.url), "utf8");
const prose = README.replace(/\s+/g, " ").replace(/\*\*/g, "");

const figures = [
  ...INGREDIENT_IDS.flatMap((id) => figuresOf(recordOf(id)!, id)),
  ...figuresOf(DERMAL_LIMITS, "dermal limits"),
];
/** Every claim but the walk's named words is a number. */
const numbers = figures.filter(({ path }) => !/\.(text|scent|colour|evidence)$/.test(path));

function under(trust: string, among = figures): number {
  return among.filter(({ source }) => SOURCES[source as SourceKey].trust === trust).length;
}

/** 1131 as the README prints it: 1 131 */
function printed(count: number): string {
  return String(count).replace(/\B(?=(\d{3})+$)/g, " ");
}

const [all, numeric] = [figures.length, numbers.length].map(printed);

describe("the counts in the README", () => {
  it.each([
    `${INGREDIENT_IDS.length} ingredients, ${Object.keys(SOURCES).length} sources, ${all} figures and claims (${numeric} of them numbers)`,
    `published text read ${printed(under("published text read"))}`,
    `published but read in a copy ${printed(under("published, copy read"))}`,
    `trade pages ${printed(under("trade pages"))}`,
    `own calculation ${printed(under("own calculation"))}`,
    `from memory ${printed(under("from memory"))} (${printed(under("from memory", numbers))} numbers`,
  ])("are the library's: %s", (words) => {
    expect(prose).toContain(words);
  });
});
