/** The table of faults holds: every test it names is there, and no fault that matters most is without one. */
import { existsSync, readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { FAULTS } from "./faults.ts";

const COUNT = 120;
const FIRST_COUNT = 47;
const SHOWN_LEAST = 100;

const TESTS = new URL("./", import.meta.url);
const texts = new Map<string, string>();

/** A test's file; nothing when there is none. */
function textOf(file: string): string | undefined {
  if (!texts.has(file) && existsSync(new URL(file, TESTS))) {
    texts.set(file, readFileSync(new URL(file, TESTS), "utf8"));
  }
  return texts.get(file);
}

/** A title is the first thing that a test function is handed, and something follows it. */
const isTitleIn = (title: string, text: string) =>
  new RegExp(`\\(\\s*"${escape(title)}",`).test(text);

const escape = (text: string) => text.replaceAll(/[.*+?^${}()|[\]\\]/g, "\\$&");

describe("the table of faults", () => {
  it("holds each fault once, in order, in words of its own", () => {
    expect(FAULTS.map(({ number }) => number)).toEqual(
      Array.from({ length: COUNT }, (_, at) => at + 1),
    );
    expect(new Set(FAULTS.map(({ what }) => what)).size).toBe(COUNT);
    expect(FAULTS.filter(({ isFirst }) => isFirst)).toHaveLength(FIRST_COUNT);
  });

  it("names tests that are there, and says of every other fault why it cannot happen", () => {
    const missing = FAULTS.flatMap(({ number, shown }) =>
      shown
        .filter(({ file, title }) => !isTitleIn(title, textOf(file) ?? ""))
        .map(({ file, title }) => `${number}: ${file}: ${title}`),
    );
    expect(missing).toEqual([]);
    const bare = FAULTS.filter(({ shown, notHere }) => shown.length === 0 && !notHere);
    expect(bare).toEqual([]);
  });

  it("shows all that matter most, and most of the others, by a test", () => {
    const shown = FAULTS.filter((each) => each.shown.length > 0);
    expect(FAULTS.filter(({ isFirst }) => isFirst).filter((each) => !shown.includes(each))).toEqual(
      [],
    );
    expect(shown.length).toBeGreaterThanOrEqual(SHOWN_LEAST);
  });

  it("would miss a test that was renamed", () => {
    const text = 'it("pays once", async () => {});\nit.each([1])(\n  "pays %s",\n  () => 0);';
    expect(["pays once", "pays %s"].map((title) => isTitleIn(title, text))).toEqual([true, true]);
    expect(["pays twice", "pays", "once"].some((title) => isTitleIn(title, text))).toBe(false);
  });
});
