/**
 * `softset room` by the function behind the command.
 */
import { DEMO_COSTS, DEMO_PRODUCTS } from "#data/seeds/demo.ts";
import { describe, expect, it } from "vitest";
import { runOn } from "../../helpers/command.ts";

const room = (input: unknown) => runOn("room", input);

const { product, pricePolicy } = DEMO_PRODUCTS[0]!;
const ASKED = { product, pricePolicy, costs: DEMO_COSTS, draws: 300 };

interface Answer {
  readonly isOpen: boolean;
  readonly bases: readonly {
    readonly base: string;
    readonly room: { share: number; low: number; high: number; known: string };
    readonly jars: readonly { jar: string }[];
    readonly ends: Readonly<Record<string, { prices: Record<string, { jarMinor: number }> }>>;
  }[];
  readonly picture?: { readonly rows: readonly unknown[] };
  readonly findings: readonly { readonly sentence: string }[];
}

const answerOf = async (input: unknown) => JSON.parse((await room(input)).stdout) as Answer;

describe("softset room", () => {
  it("answers every base with its share, interval, jars and priced ends, the same each time", async () => {
    const first = await room(ASKED);
    expect(first.status).toBe(0);
    expect((await room(ASKED)).stdout).toBe(first.stdout);
    const { bases, isOpen, findings } = JSON.parse(first.stdout) as Answer;
    expect(isOpen).toBe(true);
    expect(findings).toEqual([]);
    expect(bases.map(({ base }) => base)).toEqual(product.bases.map(({ id }) => id));
    for (const { room: found, jars, ends } of bases) {
      expect(found.low).toBeLessThan(found.share);
      expect(found.high).toBeGreaterThan(found.share);
      expect(jars).toHaveLength(product.jars.length);
      expect(ends.cheapest!.prices["jar-120"]!.jarMinor).toBeGreaterThan(0);
    }
  });

  it("draws the picture that is asked for", async () => {
    const picture = { base: "soft-shea", across: "shea-butter", up: "glide", cells: 6 };
    expect((await answerOf({ product, draws: 60, picture })).picture!.rows).toHaveLength(6);
  });

  it("says which costs are missing and surveys without those prices", async () => {
    const { "argan-oil": _gone, ...costs } = DEMO_COSTS;
    const { findings, bases } = await answerOf({ ...ASKED, costs });
    expect(findings).toHaveLength(1);
    expect(findings[0]!.sentence).toContain("cost");
    expect(bases[0]!.ends.cheapest).toBeUndefined();
  });

  it.each([
    ["nothing that is JSON", "{", "request.body.malformed"],
    ["no product", {}, "request.body.invalid"],
    [
      "a share that is a fraction",
      { product: { ...product, additives: [{ ingredient: "tocopherol", share: 0.5 }] } },
      "request.body.invalid",
    ],
    [
      "an oil nobody knows",
      { product: { ...product, additives: [{ ingredient: "moon-oil", share: 50 }] } },
      "request.body.invalid",
    ],
    [
      "a picture of one share",
      { ...ASKED, picture: { base: "soft-shea", across: "glide", up: "glide" } },
      "request.body.invalid",
    ],
    ["a million draws", { ...ASKED, draws: 1_000_000 }, "request.body.invalid"],
  ])("refuses %s", async (_, input, code) => {
    const { status, stdout, stderr } = await room(input);
    expect(status).toBe(2);
    expect(stdout).toBe("");
    expect((JSON.parse(stderr) as { code: string }).code).toBe(code);
  });
});
