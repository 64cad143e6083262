/**
 * How a maker prices a jar, and what the materials cost.
 */
import { WHOLE } from "../blend.ts";
import { type Finding, finding } from "../finding.ts";
import { isWholeFrom } from "./money.ts";

/** What one pack of an ingredient costs and weighs. */
export interface PackCost {
  /** Price of a pack [minor units] */
  readonly packMinor: number;
  /** Net weight of the pack [mg], a whole number */
  readonly packMg: number;
}

/** As much of a blend as a price asks for. */
export interface PricedBlend {
  readonly parts: readonly {
    readonly ingredient: { readonly id: string };
    /** [hundredths of a percent] */
    readonly share: number;
  }[];
}

export interface PricePolicy {
  /** Bulk made beyond what goes into jars, for what sticks to bowl and beater [hundredths of a percent of the fill] */
  readonly lossShare: number;
  /** Jar and lid, by jar id [minor units] */
  readonly jarMinor: Readonly<Record<string, number>>;
  /** Label and carton per jar [minor units] */
  readonly labelMinor: number;
  /** Labour for one jar: whipping, filling, packing [minor units] */
  readonly labourPerJarMinor: number;
  /** Labour for one batch: weighing, melting, cleaning [minor units] */
  readonly labourPerBatchMinor: number;
  /** Jars the batch labour is spread over, as the maker usually works. */
  readonly jarsPerBatch: number;
  /** Rent, power, wear of tools, for each jar [minor units]; none when not said */
  readonly overheadPerJarMinor?: number;
  /** Overheads as a share of material, jar, label and labour [hundredths of a percent]; none when not said */
  readonly overheadShare?: number;
  /** What the maker adds: a share of the cost (markup) or of the price before tax (margin) [hundredths of a percent] */
  readonly profit: { readonly kind: "markup" | "margin"; readonly share: number };
  /** Tax on the price before tax [hundredths of a percent]; 0 when none is charged */
  readonly taxShare: number;
  /** Whether the price a customer sees holds the tax; when false it holds none. True when not said. */
  readonly taxIncluded?: boolean;
  /** The final price is rounded up to a multiple of this [minor units] */
  readonly roundUpToMinor: number;
  /** A jar is never sold for less than this, by jar id [minor units, as the customer sees it] */
  readonly leastMinor?: Readonly<Record<string, number>>;
  /** A blend whose jar would come dearer than this is not sold, by jar id [minor units, as the customer sees it] */
  readonly mostMinor?: Readonly<Record<string, number>>;
  /** Which cost of material the price is made from: the pack on the shelf, or the dearest lot in stock. */
  readonly materialAt?: "pack" | "dearest-lot";
}

/** Faults of a policy that would give no price or an absurd one. */
export function policyFindings(policy: PricePolicy): Finding[] {
  const faults: [string, boolean][] = [
    ["loss allowance", isWholeFrom(policy.lossShare, 0) && policy.lossShare <= WHOLE],
    ["jar price", Object.values(policy.jarMinor).every((each) => isWholeFrom(each, 0))],
    ["label price", isWholeFrom(policy.labelMinor, 0)],
    ["labour per jar", isWholeFrom(policy.labourPerJarMinor, 0)],
    ["overhead per jar", isWholeFrom(policy.overheadPerJarMinor ?? 0, 0)],
    ["overhead share", isWholeFrom(policy.overheadShare ?? 0, 0)],
    ["least price", Object.values(policy.leastMinor ?? {}).every((each) => isWholeFrom(each, 0))],
    ["greatest price", Object.values(policy.mostMinor ?? {}).every((each) => isWholeFrom(each, 1))],
    ["least price below the greatest", !crosses(policy)],
    ["labour per batch", isWholeFrom(policy.labourPerBatchMinor, 0)],
    ["jars per batch", isWholeFrom(policy.jarsPerBatch, 1)],
    ["profit", isWholeFrom(policy.profit.share, 0)],
    ["margin below 100 %", policy.profit.kind === "markup" || policy.profit.share < WHOLE],
    ["tax", isWholeFrom(policy.taxShare, 0) && policy.taxShare <= WHOLE],
    ["rounding step", isWholeFrom(policy.roundUpToMinor, 1)],
  ];
  return faults
    .filter(([, good]) => !good)
    .map(([subject]) => finding("price.policy.impossible", subject));
}

function crosses({ leastMinor = {}, mostMinor = {} }: PricePolicy): boolean {
  return Object.entries(leastMinor).some(([jar, least]) => least > (mostMinor[jar] ?? Infinity));
}
