import { describe, expect, it } from "vitest";
import { type PricePolicy, policyFindings } from "#core/price/policy.ts";
import { A_POLICY } from "./a-policy.ts";

function faults(change: Partial<PricePolicy>): string[] {
  return policyFindings({ ...A_POLICY, ...change }).map(({ subject }) => subject);
}

describe("a price policy", () => {
  it("passes when every figure can be used", () => {
    expect(policyFindings(A_POLICY)).toEqual([]);
  });

  it("passes on its edges: nothing lost, nothing charged, a margin just below 100 %", () => {
    expect(faults({ lossShare: 0, taxShare: 0, jarMinor: { "jar-100": 0 } })).toEqual([]);
    expect(faults({ lossShare: 10_000, taxShare: 10_000, jarsPerBatch: 1 })).toEqual([]);
    expect(faults({ profit: { kind: "margin", share: 9_999 } })).toEqual([]);
    expect(faults({ profit: { kind: "markup", share: 10_000 } })).toEqual([]);
    expect(faults({ overheadPerJarMinor: 0, overheadShare: 0, taxIncluded: false })).toEqual([]);
    expect(faults({ leastMinor: { "jar-100": 0 }, mostMinor: { "jar-100": 1 } })).toEqual([]);
    expect(faults({ leastMinor: { "jar-100": 9 }, mostMinor: { "jar-100": 9 } })).toEqual([]);
    expect(faults({ leastMinor: { "jar-100": 9 }, mostMinor: { "jar-250": 1 } })).toEqual([]);
  });

  it.each<[string, Partial<PricePolicy>]>([
    ["loss allowance", { lossShare: -1 }],
    ["loss allowance", { lossShare: 10_001 }],
    ["jar price", { jarMinor: { "jar-100": 0.5 } }],
    ["label price", { labelMinor: -1 }],
    ["labour per jar", { labourPerJarMinor: Number.NaN }],
    ["labour per batch", { labourPerBatchMinor: -1 }],
    ["jars per batch", { jarsPerBatch: 0 }],
    ["profit", { profit: { kind: "markup", share: -1 } }],
    ["margin below 100 %", { profit: { kind: "margin", share: 10_000 } }],
    ["tax", { taxShare: -1 }],
    ["tax", { taxShare: 10_001 }],
    // One that can be used does not make up for one that cannot.
    ["jar price", { jarMinor: { "jar-100": 90, "jar-250": -1 } }],
    ["least price", { leastMinor: { "jar-100": 9, "jar-250": 0.5 } }],
    ["greatest price", { mostMinor: { "jar-100": 9, "jar-250": 0 } }],
    ["rounding step", { roundUpToMinor: 0 }],
    ["overhead per jar", { overheadPerJarMinor: -1 }],
    ["overhead per jar", { overheadPerJarMinor: 0.5 }],
    ["overhead share", { overheadShare: -1 }],
    ["least price", { leastMinor: { "jar-100": -1 } }],
    ["greatest price", { mostMinor: { "jar-100": 0 } }],
    [
      "least price below the greatest",
      { leastMinor: { "jar-100": 10 }, mostMinor: { "jar-100": 9 } },
    ],
    [
      "least price below the greatest",
      { leastMinor: { "jar-100": 1, "jar-250": 10 }, mostMinor: { "jar-100": 9, "jar-250": 9 } },
    ],
  ])("names the %s it cannot use: %j", (subject, change) => {
    expect(policyFindings({ ...A_POLICY, ...change })).toMatchObject([
      { code: "price.policy.impossible", subject, mend: "maker" },
    ]);
  });
});
