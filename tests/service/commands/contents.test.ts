/**
 * `softset contents`: weighed jars in, what the law's average rule says of them out.
 */
import { describe, expect, it } from "vitest";
import { runOn } from "../../helpers/command.ts";

async function contents(input: unknown) {
  const { status, stdout, stderr } = await runOn("contents", input);
  return { status, answer: JSON.parse(stdout || stderr) as Record<string, unknown> };
}

describe("softset contents", () => {
  it("says that a batch holds what its label says, with the figures in grams", async () => {
    const asked = { rule: "eu", labelG: 60, jars: 3, contentsG: [60.4, 59.9, 60] };
    expect(await contents(asked)).toEqual({
      status: 0,
      answer: {
        verdict: "holds",
        sentence: "The jars hold what their label says.",
        ...{ weighed: 3, meanG: 60.1, meanLeastG: 60, shortBelowG: 55.5, short: 0, shortMost: 0 },
        neverBelowG: 51,
        notForSale: [],
      },
    });
  });

  it("names what falls short, and the jars that may not be sold by their place", async () => {
    const asked = { rule: "us", labelG: 60, jars: 3, contentsG: [60, 54.5, 60] };
    const { status, answer } = await contents(asked);
    expect(status).toBe(0);
    expect(answer).toMatchObject({ verdict: "falls-short", notForSale: [2], shortBelowG: 54.6 });
    expect(answer["sentence"]).toBe(
      "On average they hold 58.167 g; 60 g are needed. Too far below the label: 1; allowed: 0. " +
        "Keep back those that are not for sale, and fill them up.",
    );
  });

  it("asks for more jars, or says that there is no figure, and judges nothing", async () => {
    const few = await contents({ rule: "us", labelG: 60, jars: 200, contentsG: [60] });
    expect(few.answer).toMatchObject({ verdict: "cannot-judge", needed: 12, weighed: 1 });
    expect(few.answer["sentence"]).toBe("Weigh 12 jars; so far: 1.");
    const small = await contents({ rule: "eu", labelG: 4, jars: 1, contentsG: [4] });
    expect(small).toMatchObject({ status: 0, answer: { because: "no-figure" } });
  });

  it.each([
    ["/contentsG", { rule: "eu", labelG: 60, jars: 1, contentsG: [60, 60] }],
    ["/contentsG/0", { rule: "eu", labelG: 60, jars: 1, contentsG: [-1] }],
    ["/jars", { rule: "eu", labelG: 60, jars: 0, contentsG: [] }],
    ["/rule", { rule: "mars", labelG: 60, jars: 1, contentsG: [60] }],
  ])("refuses what describes no weighed jars, at %s", async (pointer, input) => {
    const { status, answer } = await contents(input);
    expect([status, answer["code"]]).toEqual([2, "request.body.invalid"]);
    expect((answer["errors"] as { pointer: string }[]).map((each) => each.pointer)).toContain(
      pointer,
    );
  });
});
