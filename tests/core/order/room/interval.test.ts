import { exactly, sampled } from "#core/order/room/interval.ts";
import { describe, expect, it } from "vitest";

describe("the interval of a sampled share", () => {
  it.each([
    // Wilson's interval at 95 %, as tabulated for k of n (Newcombe 1998, Stat Med 17:857, table I, from memory).
    [81, 263, 0.2553, 0.3662],
    [15, 148, 0.0624, 0.1605],
    [0, 20, 0, 0.1611],
    [1, 29, 0.0061, 0.1718],
  ])("is Wilson's for %i of %i", (hits, drawn, low, high) => {
    const estimate = sampled(hits, drawn);
    expect(estimate.low).toBeCloseTo(low, 4);
    expect(estimate.high).toBeCloseTo(high, 4);
    expect(estimate.share).toBe(hits / drawn);
  });

  it("reaches the end when all or none passed, and never beyond", () => {
    expect(sampled(50, 50).high).toBe(1);
    expect(sampled(0, 50).low).toBe(0);
    expect(sampled(50, 50).low).toBeLessThan(1);
  });

  it("is a point for what is known exactly", () => {
    expect(exactly(0.25, "counted")).toEqual({
      ...{ share: 0.25, low: 0.25, high: 0.25, drawn: 0, known: "counted" },
    });
  });
});
