import { describe, expect, it } from "vitest";
import { withdrawalTold } from "#core/order/withdrawal.ts";

describe("what is told of changing one’s mind", () => {
  it.each(["DE", "at", "GB", "NO"])(
    "is fourteen days in %s, where the law gives them",
    (country) => {
      expect(withdrawalTold(undefined, country)).toEqual({ kind: "days", days: 14 });
    },
  );

  it.each(["US", "CH", ""])("is nothing in %j, unless the maker says it", (country) => {
    expect(withdrawalTold(undefined, country)).toBeUndefined();
  });

  it.each([
    { kind: "made-to-wish" } as const,
    { kind: "days", days: 30 } as const,
    { kind: "own-words", words: "Ask us." } as const,
  ])("is what the maker chose, wherever that is: %j", (chosen) => {
    expect(withdrawalTold(chosen, "DE")).toBe(chosen);
    expect(withdrawalTold(chosen, "US")).toBe(chosen);
  });
});
