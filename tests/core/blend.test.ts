import { describe, expect, it } from "vitest";
import { PARTS_GREATEST, WHOLE, makeBlend, shareFromPercent } from "#core/blend.ts";
import type { Ingredient } from "#core/ingredient.ts";
import { COCOA_BUTTER, SHEA_BUTTER } from "../helpers/ingredients.ts";

function codes(parts: readonly { ingredient: Ingredient; share: number }[]): string[] {
  const made = makeBlend(parts);
  return "findings" in made ? made.findings.map(({ code }) => code) : [];
}

const shea = (share: number) => ({ ingredient: SHEA_BUTTER, share });
const cocoa = (share: number) => ({ ingredient: COCOA_BUTTER, share });

describe("making a blend", () => {
  it("takes shares that sum to the whole, in the order given", () => {
    expect(makeBlend([shea(6_000), cocoa(4_000)])).toEqual({
      blend: { parts: [shea(6_000), cocoa(4_000)] },
    });
  });

  it.each([-1, 1])(
    "refuses a sum that is %d hundredth of a percent off, and names the sum",
    (off) => {
      const made = makeBlend([shea(6_000), cocoa(4_000 + off)]);
      expect(made).toMatchObject({
        findings: [
          { code: "compose.shares.not-whole", measured: 100 + off / 100, limit: 100, unit: "%" },
        ],
      });
    },
  );

  it("merges two parts of one ingredient and leaves out empty ones", () => {
    expect(makeBlend([shea(3_000), cocoa(0), shea(7_000)])).toEqual({
      blend: { parts: [shea(WHOLE)] },
    });
  });

  it.each([-1, 0.5, WHOLE + 1, Number.NaN, Number.POSITIVE_INFINITY])(
    "refuses %d as a share, before it looks at the sum",
    (share) => {
      expect(codes([shea(share), cocoa(WHOLE)])).toEqual(["compose.share.not-a-share"]);
    },
  );

  it("refuses a blend of nothing", () => {
    expect(codes([])).toEqual(["compose.blend.empty"]);
  });

  it("takes forty parts and refuses forty-one", () => {
    const parts = (count: number) => [
      shea(WHOLE - count + 1),
      ...Array.from({ length: count - 1 }, () => cocoa(1)),
    ];
    expect(codes(parts(PARTS_GREATEST))).toEqual([]);
    expect(codes(parts(PARTS_GREATEST + 1))).toEqual(["compose.blend.too-many-parts"]);
  });
});

describe("a share from percent", () => {
  it.each([
    [0, 0],
    [0.01, 1],
    [12.34, 1_234],
    [0.07, 7],
    [100, WHOLE],
  ])("reads %d %% as %d", (percent, share) => {
    expect(shareFromPercent(percent)).toBe(share);
  });

  it.each([0.001, 33.333, -0.01, 100.01, Number.NaN, Number.POSITIVE_INFINITY])(
    "refuses %d %%: finer than a hundredth, outside 0 to 100, or no number",
    (percent) => {
      expect(shareFromPercent(percent)).toBeUndefined();
    },
  );
});
