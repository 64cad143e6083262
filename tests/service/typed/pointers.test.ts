import { describe, expect, it } from "vitest";
import * as z from "zod";
import { pointerTo, pointersOf } from "#service/typed/pointers.ts";

describe("a place in an input", () => {
  it("is told as a JSON pointer, its own signs written as RFC 6901 says", () => {
    expect(pointerTo([])).toBe("");
    expect(pointerTo(["parts", 2, "percent"])).toBe("/parts/2/percent");
    // RFC 6901, section 5: the key a/b is "/a~1b", m~n is "/m~0n".
    expect([["a/b"], ["m~n"]].map(pointerTo)).toEqual(["/a~1b", "/m~0n"]);
  });

  it("comes with a sentence for each fault, twenty at most", () => {
    const { error } = z.array(z.int()).safeParse(Array.from({ length: 30 }, () => "x"));
    const told = pointersOf(error!);
    expect(told).toHaveLength(20);
    expect(told[3]!.pointer).toBe("/3");
    expect(told[3]!.detail).toContain("expected");
  });
});
