/** The size a PNG says of itself. */
import { describe, expect, it } from "vitest";
import { dotsFor, withDotsPerInch } from "#service/documents/png-size.ts";

/** One grey dot, as an image program wrote it: header, data and end. */
const DOT = Uint8Array.from(
  atob(
    "iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAAAAAA6fptVAAAACklEQVR4nGNoAAAAggCBd81ytgAAAABJRU5ErkJggg==",
  ),
  (letter) => letter.charCodeAt(0),
);

describe("a PNG", () => {
  it("has as many dots as its length asks for", () => {
    expect([140, 40].map((mm) => dotsFor(mm, 300))).toEqual([1654, 472]);
    expect([25.4, 45].map((mm) => dotsFor(mm, 600))).toEqual([600, 1063]);
  });

  it("says how close they stand, behind its header, and is otherwise the same", () => {
    const hex = (bytes: Uint8Array) => Buffer.from(bytes).toString("hex");
    const said = withDotsPerInch(DOT, 300);
    // 11 811 dots a metre both ways; the checksum is the one that zlib's crc32 gives.
    expect(hex(said.subarray(33, 54))).toBe("000000097048597300002e2300002e230178a53f76");
    expect(hex(said.subarray(0, 33)) + hex(said.subarray(54))).toBe(hex(DOT));
    expect(hex(withDotsPerInch(DOT, 600)).slice(82, 98)).toBe("00005c4600005c46");
  });

  it("is refused when it is none", () => {
    expect(() => withDotsPerInch(Uint8Array.of(1, 2, 3), 300)).toThrow("this is no PNG");
  });
});
