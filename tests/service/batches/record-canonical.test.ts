/**
 * Canonical JSON against the examples of RFC 8785 itself.
 */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { canonicalJson } from "#service/batches/record-canonical.ts";

describe("canonical JSON", () => {
  it("writes the sample of RFC 8785, section 3.2", () => {
    const sample = JSON.parse(
      String.raw`{
        "numbers": [333333333.33333329, 1E30, 4.50, 2e-3, 0.000000000000000000000000001],
        "string": "\u20ac$\u000F\u000aA'\u0042\u0022\u005c\\\"\/",
        "literals": [null, true, false]
      }`,
    ) as unknown;
    expect(canonicalJson(sample)).toBe(
      String.raw`{"literals":[null,true,false],"numbers":[333333333.3333333,1e+30,4.5,0.002,1e-27],` +
        String.raw`"string":"€$\u000f\nA'B\"\\\\\"/"}`,
    );
  });

  it("sorts names by UTF-16 units, as the sample of section 3.2.3", () => {
    const sample = {
      "\u20ac": "Euro Sign",
      "\r": "Carriage Return",
      "\ufb33": "Hebrew Letter Dalet With Dagesh",
      "1": "One",
      "\ud83d\ude00": "Emoji: Grinning Face",
      "\u0080": "Control",
      "\u00f6": "Latin Small Letter O With Diaeresis",
    };
    const values = [...canonicalJson(sample).matchAll(/:"([^"]+)"/g)].map(([, value]) => value);
    expect(values).toEqual([
      "Carriage Return",
      "One",
      "Control",
      "Latin Small Letter O With Diaeresis",
      "Euro Sign",
      "Emoji: Grinning Face",
      "Hebrew Letter Dalet With Dagesh",
    ]);
  });

  // RFC 8785, appendix B: the bits of a double, and how it is written.
  it.each([
    ["0000000000000000", "0"],
    ["8000000000000000", "0"],
    ["0000000000000001", "5e-324"],
    ["8000000000000001", "-5e-324"],
    ["7fefffffffffffff", "1.7976931348623157e+308"],
    ["ffefffffffffffff", "-1.7976931348623157e+308"],
    ["4340000000000000", "9007199254740992"],
    ["c340000000000000", "-9007199254740992"],
    ["4430000000000000", "295147905179352830000"],
    ["44b52d02c7e14af5", "9.999999999999997e+22"],
    ["44b52d02c7e14af6", "1e+23"],
    ["44b52d02c7e14af7", "1.0000000000000001e+23"],
    ["444b1ae4d6e2ef4e", "999999999999999700000"],
    ["444b1ae4d6e2ef4f", "999999999999999900000"],
    ["444b1ae4d6e2ef50", "1e+21"],
    ["3eb0c6f7a0b5ed8c", "9.999999999999997e-7"],
    ["3eb0c6f7a0b5ed8d", "0.000001"],
    ["41b3de4355555553", "333333333.3333332"],
    ["41b3de4355555554", "333333333.33333325"],
    ["41b3de4355555555", "333333333.3333333"],
    ["41b3de4355555556", "333333333.3333334"],
    ["41b3de4355555557", "333333333.33333343"],
    ["becbf647612f3696", "-0.0000033333333333333333"],
    ["43143ff3c1cb0959", "1424953923781206.2"],
  ])("writes the double %s as %s", (bits, text) => {
    const view = new DataView(new ArrayBuffer(8));
    view.setBigUint64(0, BigInt(`0x${bits}`));
    expect(canonicalJson(view.getFloat64(0))).toBe(text);
  });

  it.each([
    ["not a number", Number.NaN],
    ["infinite", -Infinity],
    ["half a surrogate pair", "\ud83d"],
    ["half a pair in a name", { "\ude00": 1 }],
    ["a function", () => 1],
    ["nothing at all", undefined],
    ["nothing in a list", [undefined]],
  ])("refuses what is %s", (_, value) => {
    expect(() => canonicalJson(value)).toThrow(TypeError);
  });

  it("reads back as it was, and is the same however the members were put in", () => {
    fc.assert(
      fc.property(fc.jsonValue({ maxDepth: 3 }), (value) => {
        const text = canonicalJson(value);
        expect(canonicalJson(JSON.parse(text))).toBe(text);
        const plain = JSON.parse(JSON.stringify(value)) as unknown;
        expect(JSON.parse(text)).toEqual(plain);
      }),
    );
    fc.assert(
      fc.property(fc.uniqueArray(fc.string({ unit: "grapheme" }), { maxLength: 6 }), (names) => {
        const named = names.map((name, at) => [name, at] as const);
        const [one, other] = [named, [...named].reverse()].map((each) => Object.fromEntries(each));
        expect(canonicalJson(other)).toBe(canonicalJson(one));
      }),
    );
  });
});
