/**
 * What nobody should send: texts and values that programs trip over, and ways to spoil what is whole.
 */
import fc from "fast-check";

/** Signs that mean something to HTML, JSON, SQL, CSV, mail headers, paths, or to how text is laid out. */
const TEXTS = [
  ...[
    `zqmark"'<i>&qz`,
    "<script>alert(1)</script>",
    `"><svg onload=alert(1)>`,
    "{{constructor}}",
    "${7*7}",
  ],
  ...["=1+1", "+1", "-1", "@SUM(A1)", "\t=1", "'=1", "a\r\nBcc: thief@elsewhere.example", "a\nb"],
  ...[
    "\u202eabc",
    "\u200b",
    "\u0000",
    "a\u0000b",
    "\ud800",
    "\udfff\ud800",
    "👩🏽‍🍳",
    "ﷺ",
    "İ",
    "e\u0301",
  ],
  ...[
    "",
    " ",
    "null",
    "NaN",
    "Infinity",
    "1e999",
    "-0",
    "0x10",
    "٣",
    "1,5",
    "1.5.5",
    "1e-400",
    "9".repeat(400),
  ],
  ...[
    "../../etc/passwd",
    "..%2f",
    "%00",
    "%ff",
    "constructor",
    "__proto__",
    "toString",
    "' or 1=1 --",
  ],
  ...[
    "2026-02-30",
    "9999-99-99",
    "en-GB-x-y",
    "ZZZ",
    "everyday",
    "soft-shea",
    "shea-butter",
    "10 kg",
    "5 lb",
  ],
  ...["100", "10000", "0", "1", "50", "12.34", "yes", "on"],
];

export const hostileText: fc.Arbitrary<string> = fc.oneof(
  { weight: 12, arbitrary: fc.constantFrom(...TEXTS) },
  { weight: 4, arbitrary: fc.string({ unit: "binary", maxLength: 40 }) },
  { weight: 2, arbitrary: fc.constantFrom("x".repeat(300), "ä".repeat(5000), "\n".repeat(2000)) },
);

/** As long as nobody types; rare, because it takes its time to be made and sent. */
export const LONGEST = "x".repeat(1_000_000);

const deep = (depth: number): unknown =>
  Array.from({ length: depth }).reduce<unknown>((inside) => [inside], 1);
const NUMBERS = [
  0,
  -0,
  -1,
  0.5,
  1e-320,
  1e21,
  1e308,
  -1e308,
  2 ** 31,
  2 ** 53,
  2 ** 53 + 2,
  10_001,
  5000,
];
const VALUES = [
  null,
  true,
  false,
  [],
  {},
  [[]],
  { a: 1 },
  deep(2000),
  Array.from({ length: 500 }, () => 1),
];

export const hostileValue: fc.Arbitrary<unknown> = fc.oneof(
  hostileText,
  fc.integer({ min: 0, max: 10_000 }),
  fc.constantFrom(...NUMBERS),
  fc.double({ noNaN: true }),
  fc.constantFrom(...VALUES),
  fc.array(hostileText, { maxLength: 4 }),
);

/** One change of a document: at which of its places, how, and with what. */
export interface Edit {
  readonly at: number;
  readonly how: "replace" | "remove" | "add" | "double" | "nest";
  readonly value: unknown;
}

export const edits: fc.Arbitrary<Edit[]> = fc.array(
  fc.record({
    at: fc.nat(9999),
    how: fc.constantFrom("replace", "replace", "replace", "remove", "add", "double", "nest"),
    value: hostileValue,
  }),
  { maxLength: 4 },
);

type Holder = Record<string, unknown> | unknown[];

/** A copy of a document, spoiled. */
export function spoiled(document: unknown, changes: readonly Edit[]): unknown {
  const whole = { inside: structuredClone(document) };
  for (const { at, how, value: given } of changes) {
    const value = structuredClone(given);
    const places = placesIn(whole);
    const [holder, key] = places[at % places.length]!;
    const held = (holder as Record<string, unknown>)[key];
    if (how === "replace") set(holder, key, value);
    else if (how === "nest") set(holder, key, { [key]: held });
    else if (how === "double") set(holder, key, [held, held]);
    else if (how === "add") set(holder, `${key}-more`, value);
    else if (Array.isArray(holder)) holder.splice(Number(key), 1);
    else if (holder !== whole) Reflect.deleteProperty(holder, key);
  }
  return whole.inside;
}

/** A property of that very name, also where the name means something else. */
function set(holder: Holder, key: string, value: unknown): void {
  Object.defineProperty(holder, key, {
    value,
    enumerable: true,
    configurable: true,
    writable: true,
  });
}

function placesIn(holder: Holder, depth = 0): [Holder, string][] {
  return Object.keys(holder).flatMap((key): [Holder, string][] => {
    const held = (holder as Record<string, unknown>)[key];
    const isHolder = typeof held === "object" && held !== null && depth < 12;
    return [[holder, key], ...(isHolder ? placesIn(held as Holder, depth + 1) : [])];
  });
}
