/**
 * `softset nearest` by the function behind the command.
 */
import { describe, expect, it } from "vitest";
import { runOn } from "../../helpers/command.ts";

async function nearest(input: unknown) {
  const { status, stdout, stderr } = await runOn("nearest", input);
  return { status, answer: JSON.parse(stdout || "null"), problem: JSON.parse(stderr || "null") };
}

const HARD = {
  parts: [
    { ingredient: "shea-butter", percent: 30, least: 20, greatest: 60 },
    { ingredient: "cocoa-butter", percent: 50 },
    { ingredient: "jojoba-oil", percent: 19.5 },
    { ingredient: "tocopherol", percent: 0.5, fixed: true },
  ],
  rules: { firmness: ["soft", "firm"], softensAboveLeastCelsius: 26 },
};

describe("softset nearest", () => {
  it("answers the nearest parts, what changes, and a sentence", async () => {
    const { status, answer } = await nearest(HARD);
    expect(status).toBe(0);
    expect(answer.kind).toBe("found");
    const parts = answer.parts as { ingredient: string; percent: number }[];
    expect(parts.reduce((sum, { percent }) => sum + Math.round(100 * percent), 0)).toBe(10_000);
    expect(parts[3]).toEqual({ ingredient: "tocopherol", percent: 0.5 });
    expect(answer.sentence).toMatch(/less cocoa butter, .* more jojoba oil$/);
    const judged = await runOn("judge", { parts, rules: HARD.rules });
    expect(JSON.parse(judged.stdout).verdict).toBe("orderable");
  });

  it("says what would have to give when nothing inside the bounds passes", async () => {
    const [shea, cocoa, ...others] = HARD.parts;
    const parts = [shea, { ...cocoa, fixed: true }, ...others];
    const { status, answer } = await nearest({
      ...HARD,
      parts: [
        { ...parts[0], greatest: 30 },
        ...parts.slice(1, 2),
        { ...parts[2], greatest: 19.5 },
        parts[3],
      ],
    });
    expect(status).toBe(0);
    expect(answer.kind).toBe("none");
    expect(answer.conflicts.length).toBeGreaterThan(0);
    for (const { sentence } of answer.conflicts) expect(sentence).toMatch(/\.$/);
  });

  it("cannot search where a fat is unknown, and says so with exit code 0", async () => {
    const parts = [{ name: "odd fat", percent: 100, least: 10 }];
    const { status, answer } = await nearest({ parts });
    expect(status).toBe(0);
    expect(answer).toMatchObject({ kind: "cannot-judge", parts: null });
    expect(answer.findings[0].code).toBe("judge.solid-fat.figure-missing");
  });

  it.each([
    ["bounds that cross", { least: 50, greatest: 20 }],
    ["a bound above the whole", { greatest: 120 }],
    ["a bound finer than a hundredth", { least: 1.005 }],
    ["fixed and a bound", { fixed: true, least: 10 }],
    ["a bound that is no number", { least: "ten" }],
  ])("refuses %s", async (_, bound) => {
    const parts = [{ ingredient: "shea-butter", percent: 100, ...bound }];
    const { status, problem } = await nearest({ parts });
    expect(status).toBe(2);
    expect(problem.code).toBe("request.body.invalid");
    expect(problem.errors[0].pointer).toMatch(/^\/parts\/0/);
  });

  it("refuses what judge refuses: no JSON, parts that do not sum to 100", async () => {
    expect((await nearest("{")).problem.code).toBe("request.body.malformed");
    const parts = [{ ingredient: "shea-butter", percent: 90 }];
    expect((await nearest({ parts })).problem.findings[0].code).toBe("compose.shares.not-whole");
  });
});
