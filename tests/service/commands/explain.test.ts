/**
 * `softset explain` by the function behind the command.
 */
import { runCommand } from "#service/commands/run.ts";
import { describe, expect, it } from "vitest";
import { runOn } from "../../helpers/command.ts";

interface Answer {
  readonly solids: readonly {
    readonly celsius: number;
    readonly state: string;
    readonly solidFat: number;
    readonly groups: readonly { readonly group: string; readonly points: number }[];
    readonly ingredients: readonly { readonly ingredient: string; readonly points: number }[];
    readonly sentence: string;
  }[];
  readonly groups: Readonly<Record<string, string>>;
  readonly findings: readonly { readonly code: string; readonly sentence: string }[];
}

async function explain(blend: unknown) {
  const { status, stdout, stderr } = await runOn("explain", blend);
  return { status, stderr, answer: () => JSON.parse(stdout) as Answer };
}

const HARD = {
  parts: [
    { ingredient: "cocoa-butter", percent: 60 },
    { ingredient: "shea-butter", percent: 15 },
    { ingredient: "sunflower-oil", percent: 25 },
  ],
  celsius: [30, 20],
};

describe("softset explain", () => {
  it("says which ingredients and kinds of fat make the solids, in both states, coolest first", async () => {
    const { status, answer } = await explain(HARD);
    expect(status).toBe(0);
    const { solids, groups } = answer();
    expect(solids.map(({ celsius, state }) => [celsius, state])).toEqual([
      [20, "settled"],
      [20, "fresh"],
      [21, "settled"],
      [21, "fresh"],
      [30, "settled"],
      [30, "fresh"],
    ]);
    const [cool] = solids;
    expect(cool!.groups[0]!.group).toBe("SUS");
    expect(cool!.ingredients[0]!.ingredient).toBe("cocoa-butter");
    expect(cool!.sentence).toContain("Cocoa butter");
    expect(groups["SUS"]).toContain("saturated");
    for (const { solidFat, groups: kinds, ingredients } of solids) {
      for (const lines of [kinds, ingredients]) {
        const sum = lines.reduce((before, { points }) => before + points, 0);
        expect(Math.abs(sum - solidFat)).toBeLessThan(0.05); // printed to the hundredth
      }
    }
  });

  it("explains whatever the maker's rules say of the blend", async () => {
    const rules = { firmness: ["soft"], poreRatingMost: 0 };
    expect((await explain({ ...HARD, rules })).answer()).toMatchObject({ findings: [] });
  });

  it("explains nothing and says why when a temperature lies outside what can be judged", async () => {
    const { status, answer } = await explain({ ...HARD, celsius: [61] });
    expect(status).toBe(0);
    expect(answer().solids).toEqual([]);
    expect(answer().findings[0]!.code).toBe("judge.temperature.out-of-range");
    expect(answer().findings[0]!.sentence).toContain("61");
  });

  it("exits 2 with a problem for input that is no blend, and names its own command", async () => {
    const { status, stderr } = await explain({
      parts: [{ ingredient: "shea-butter", percent: 99 }],
    });
    expect(status).toBe(2);
    expect(stderr).toContain("compose.choice.refused");
    const bare = await runCommand(["explain"]);
    expect(bare.status).toBe(2);
    expect(bare.stderr).toContain("softset explain FILE");
  });
});
