/** A price policy with round figures, in pence, for the tests of this chapter. */
import type { PackCost, PricePolicy } from "#core/price/policy.ts";

export const A_POLICY: PricePolicy = {
  lossShare: 500,
  jarMinor: { "jar-100": 90 },
  labelMinor: 25,
  labourPerJarMinor: 150,
  labourPerBatchMinor: 1_200,
  jarsPerBatch: 12,
  profit: { kind: "markup", share: 5_000 },
  taxShare: 2_000,
  roundUpToMinor: 10,
};

export const A_JAR = { id: "jar-100", fillG: 100 };

export const COSTS: Readonly<Record<string, PackCost>> = {
  "shea-butter": { packMinor: 1_000, packMg: 1_000_000 }, // 1 a gram
  "cocoa-butter": { packMinor: 2_000, packMg: 1_000_000 }, // 2 a gram
  "sunflower-oil": { packMinor: 500, packMg: 1_000_000 }, // 0.5 a gram
};
