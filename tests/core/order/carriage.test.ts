import { describe, expect, it } from "vitest";
import { isOffered } from "#core/order/carriage.ts";

const OFFERS = {
  ways: [
    { name: "Post", minor: 395 },
    { name: "Courier", minor: 795 },
  ],
  countries: ["GB"],
};

describe("carriage that was paid", () => {
  it.each([
    ["Post", 395, true],
    ["Courier", 795, true],
    // Each figure of one of the ways, and yet none of them:
    ["Post", 795, false],
    ["Courier", 395, false],
    ["post", 395, false],
    [null, 395, false],
    [null, 0, false],
  ])("by %s at %d was offered: %s", (name, minor, is) => {
    expect(isOffered(OFFERS, { name, minor })).toBe(is);
  });

  it.each([
    [null, 0, true],
    ["Post", 0, false],
    [null, 1, false],
  ])("by %s at %d, where nothing is sent, is right: %s", (name, minor, is) => {
    expect(isOffered(undefined, { name, minor })).toBe(is);
  });
});
