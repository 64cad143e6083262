import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { adviseOn, adviseOnScale } from "#core/make/net-content-advice.ts";
import { type NetContentRule, checkNetContent } from "#core/make/net-content.ts";

const advice = (
  rule: NetContentRule,
  labelG: number,
  contentsG: readonly number[],
  jars?: number,
) => {
  const contents = contentsG.map((g) => Math.round(g * 1000));
  const check = checkNetContent(rule, labelG * 1000, contents, jars ?? contents.length);
  return adviseOn(check, contents, labelG * 1000)
    .join(" ")
    .replaceAll("\u00a0", " ");
};

describe("what is said of weighed jars", () => {
  it("is one sentence when the label is kept", () => {
    expect(advice("eu", 120, [120.4, 119.8])).toBe(
      "The label is kept: 2 jars hold 120.1 g on average, and none holds less than 114.6 g.",
    );
    expect(advice("us", 120, [120])).toBe(
      "The label is kept: 1 jar holds 120 g on average, and none holds less than 111 g.",
    );
  });

  it("says how much is missing in all when every jar was weighed, rounded so that it is enough", () => {
    // 119.9 + 119.9 + 119.996 = 359.796: 0.204 g are missing.
    expect(advice("eu", 120, [119.9, 119.9, 119.996])).toContain("Fill in 0.21 g more in all");
  });

  it("asks for all jars when only some were weighed", () => {
    const contents = Array.from({ length: 12 }, (_, at) => 118 + (at % 2) / 10);
    const said = advice("us", 120, contents, 200);
    expect(said).toContain("fill up all jars");
    expect(said).not.toContain("Fill in");
  });

  it("names the jars that may not be sold, and those far below, each once", () => {
    const contents = [...Array<number>(18).fill(121), 108, 112];
    const said = advice("eu", 120, contents);
    expect(said).toContain("Not for sale with this label, below 109.2 g: jar 19 (108 g).");
    expect(said).toContain("under 114.6 g, where none may be: jar 20 (112 g).");
    expect(said.match(/jar 19 /g)).toHaveLength(1);
    const many = advice("eu", 120, Array<number>(20).fill(100));
    expect(many).toContain("jar 12 (100 g) and 8 more");
  });

  it("says what is missing for a judgement", () => {
    expect(advice("eu", 120, [121], 3)).toContain("3 jars must be weighed, and 1 is written");
    expect(advice("eu", 3, [3])).toContain("no figure for a label of 3 g");
    expect(advice("eu", 120, [-1])).toContain("Look at the tare");
  });

  it("never is silent, and speaks of filling up only when the check falls short", () => {
    const batch = fc.array(fc.integer({ min: 80_000, max: 130_000 }), {
      minLength: 1,
      maxLength: 60,
    });
    fc.assert(
      fc.property(fc.constantFrom("eu" as const, "us" as const), batch, (rule, contents) => {
        const check = checkNetContent(rule, 120_000, contents, contents.length);
        const said = adviseOn(check, contents, 120_000);
        expect(said.length).toBeGreaterThan(0);
        const mends = /fill/i.test(said.join(" "));
        expect(mends).toBe(check.verdict === "falls-short");
      }),
    );
  });
});

describe("the scale", () => {
  it("may be off by a fifth of the law’s error in the EU and UK, and is named when it is coarser", () => {
    // 120 g: 5.4 g is tolerable, a fifth of it 1.08 g.
    expect(adviseOnScale("eu", 120_000, 1000)).toBeUndefined();
    expect(adviseOnScale("eu", 120_000, 2000)).toMatch(/1\.08.g at most/);
    expect(adviseOnScale("us", 120_000, 2000)).toBeUndefined();
    expect(adviseOnScale("eu", 3000, 2000)).toBeUndefined();
  });
});
