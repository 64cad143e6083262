import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type PricePolicy, policyFindings } from "#core/price/policy.ts";
import { type PriceFields, fieldsOfPolicy, stepsOffered } from "#service/prices/price-fields.ts";
import { readPolicy } from "#service/prices/read-policy.ts";
import { PricePolicyShape } from "#service/shapes.ts";
import { TILL_CURRENCIES } from "#service/tills/currency-table.ts";

const GBP = TILL_CURRENCIES.get("GBP")!;
const JARS = [
  { id: "jar-60", name: "Small jar", fillG: 60 },
  { id: "jar-120", name: "Middle jar", fillG: 120 },
];

const POLICY: PricePolicy = {
  lossShare: 400,
  jarMinor: { "jar-60": 62, "jar-120": 85 },
  labelMinor: 24,
  labourPerJarMinor: 180,
  labourPerBatchMinor: 1200,
  jarsPerBatch: 6,
  profit: { kind: "margin", share: 3000 },
  taxShare: 2000,
  roundUpToMinor: 10,
};

const TYPED = fieldsOfPolicy(POLICY, JARS, GBP);

function faultsOf(change: PriceFields, currency = GBP): Record<string, string> {
  const read = readPolicy({ ...TYPED, ...change }, JARS, currency);
  const faults = "faults" in read ? read.faults : [];
  return Object.fromEntries(faults.map(({ field, sentence }) => [field, sentence]));
}

describe("a price sheet", () => {
  it("shows a policy in figures as one would type them", () => {
    expect(TYPED).toMatchObject({
      materialAt: "pack",
      loss: "4",
      label: "0.24",
      labourBatch: "12.00",
      jarsPerBatch: "6",
      overheadJar: "",
      profitKind: "margin",
      profitPercent: "30",
      taxIncluded: "yes",
      roundTo: "10",
      roundTyped: "",
      "jar.jar-60": "0.62",
      "most.jar-60": "",
    });
  });

  it("reads every policy back as it was, in currencies with no, two and three decimals", () => {
    const currencies = fc.constantFrom(
      ...["GBP", "JPY", "KWD"].map((code) => TILL_CURRENCIES.get(code)!),
    );
    const policies = fc.record({
      ...{ lossShare: fc.nat(10_000), labelMinor: fc.nat(9_999), taxShare: fc.nat(10_000) },
      ...{ labourPerJarMinor: fc.nat(9_999), labourPerBatchMinor: fc.nat(99_999) },
      ...{ jarsPerBatch: fc.integer({ min: 1, max: 500 }), taxIncluded: fc.boolean() },
      overheadPerJarMinor: fc.option(fc.nat(9_999), { nil: undefined }),
      overheadShare: fc.option(fc.nat(100_000), { nil: undefined }),
      profit: fc.record({
        kind: fc.constantFrom("margin" as const, "markup" as const),
        share: fc.nat(9_999),
      }),
      roundUpToMinor: fc.constantFrom(10, 50, 100, 500, 1_000, 30),
      jarMinor: fc.record({ "jar-60": fc.nat(999), "jar-120": fc.nat(999) }),
      leastMinor: fc.record({ "jar-60": fc.nat(99).map((tens) => tens * 10) }),
      mostMinor: fc.record({ "jar-60": fc.integer({ min: 990, max: 9_999 }) }),
      materialAt: fc.constantFrom("pack" as const, "dearest-lot" as const),
    });
    fc.assert(
      fc.property(policies, currencies, (made, currency) => {
        const policy = JSON.parse(JSON.stringify(made)) as PricePolicy; // without what is undefined
        const read = readPolicy(fieldsOfPolicy(policy, JARS, currency), JARS, currency);
        expect(read).toEqual({ policy });
        expect(policyFindings(policy)).toEqual([]);
        expect(PricePolicyShape.parse(policy)).toEqual(policy);
      }),
    );
  });

  it("leaves out the prices of jars that the product no longer has", () => {
    const read = readPolicy(TYPED, JARS.slice(0, 1), GBP);
    expect(read).toMatchObject({ policy: { jarMinor: { "jar-60": 62 } } });
    expect("policy" in read && Object.keys(read.policy.jarMinor)).toEqual(["jar-60"]);
  });

  it.each<[string, PriceFields, string, string]>([
    [
      "an empty jar price",
      { "jar.jar-60": "" },
      "jar.jar-60",
      "Jar and lid, Small jar 60\u00a0g: Write an amount in GBP, such as 12.50.",
    ],
    [
      "a word",
      { label: "cheap" },
      "label",
      "Label and carton: “cheap” is no amount of money. Write a figure such as 12.50.",
    ],
    [
      "a minus",
      { labourJar: "-1" },
      "labourJar",
      "Labour for one jar: An amount cannot be below nothing. Write it without the minus.",
    ],
    [
      "too many decimals",
      { overheadJar: "0.125" },
      "overheadJar",
      "Overheads for one jar: GBP has 2 decimals. Write no more than that.",
    ],
    [
      "no jars in a batch",
      { jarsPerBatch: "0" },
      "jarsPerBatch",
      "Jars in a usual batch: Write a whole number from 1 to 100000.",
    ],
    [
      "a loss above all",
      { loss: "101" },
      "loss",
      "Loss allowance: This percentage can be 100 at most.",
    ],
    [
      "a margin of all",
      { profitPercent: "100" },
      "profitPercent",
      "Profit: a margin stays below 100 %, or the price would have no end.",
    ],
    [
      "a step of nothing",
      { roundTo: "other", roundTyped: "0" },
      "roundTyped",
      "Rounding step: Write a step above nothing.",
    ],
    [
      "no step",
      { roundTo: "other", roundTyped: "" },
      "roundTyped",
      "Rounding step: Write an amount in GBP, such as 12.50.",
    ],
    [
      "a greatest price of nothing",
      { "most.jar-60": "0" },
      "most.jar-60",
      "Greatest price, Small jar: write more than nothing, or leave it.",
    ],
    [
      "limits that cross",
      { "least.jar-60": "9", "most.jar-60": "8" },
      "least.jar-60",
      "Least price, Small jar: it lies above the greatest. Change one of them.",
    ],
    [
      "an unknown kind of profit",
      { profitKind: "wish" },
      "profitKind",
      "Say whether the profit is a margin or a markup.",
    ],
    [
      "an unknown cost of material",
      { materialAt: "" },
      "materialAt",
      "Say which cost of material the price is made from.",
    ],
    [
      "nothing said of the tax",
      { taxIncluded: "perhaps" },
      "taxIncluded",
      "Say whether the price holds the tax.",
    ],
  ])("with %s says what to do", (_, change, field, sentence) => {
    expect(faultsOf(change)).toEqual({ [field]: sentence });
  });

  it("takes a markup of 100 % and more", () => {
    expect(faultsOf({ profitKind: "markup", profitPercent: "150" })).toEqual({});
  });

  it("asks for prices that the till can take in a currency counted in steps", () => {
    const dinar = TILL_CURRENCIES.get("KWD")!;
    const krona = TILL_CURRENCIES.get("ISK")!;
    expect(faultsOf({ roundTo: "other", roundTyped: "0.005" }, dinar)).toEqual({
      roundTyped: "Rounding step: In KWD a till takes multiples of 0.010 only.",
    });
    expect(faultsOf({ roundTo: "100", "least.jar-60": "9.50" }, krona)).toEqual({
      "least.jar-60": "Least price, Small jar: In ISK a till takes multiples of 1.00 only.",
    });
    expect(stepsOffered(krona)).toEqual([100]);
    expect(stepsOffered(dinar)).toEqual([100, 500, 1_000]);
    expect(stepsOffered(TILL_CURRENCIES.get("JPY")!)).toEqual([10, 50, 100]);
  });

  it("names every fault at once", () => {
    expect(Object.keys(faultsOf({ loss: "x", label: "x", "least.jar-120": "x" }))).toHaveLength(3);
  });
});
