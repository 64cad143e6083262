/**
 * What one jar would cost, earn and be sold for under a policy, and where its money goes. Runs on the page and in the
 * service alike.
 */
import type { Jar } from "#core/compose/product.ts";
import { type Finding, sayFinding } from "#core/finding.ts";
import { type PriceBreakdown, type PriceLine, explainPrice } from "#core/price/breakdown.ts";
import { marginShareAsked, marginShareOf } from "#core/price/margin.ts";
import type { PackCost, PricePolicy } from "#core/price/policy.ts";
import { priceJar, pricePer100g } from "#core/price/price.ts";
import { makeTariff } from "#core/price/tariff.ts";
import { taxOnTopMinor, taxOnTopOf } from "#core/price/tax.ts";
import type { TillCurrency } from "../tills/currency-table.ts";

/** A blend to try a policy on. */
export interface TrialBlend {
  /** Id of the base, and which of its blends: "soft-shea start". */
  readonly key: string;
  readonly name: string;
  readonly parts: readonly { readonly id: string; readonly name: string; readonly share: number }[];
  /** Why it cannot be priced; empty when it can. */
  readonly trouble: string;
}

/** All a page needs to price without asking again. */
export interface TrialGround {
  readonly currency: TillCurrency;
  readonly locale: string;
  readonly jars: readonly Jar[];
  readonly blends: readonly TrialBlend[];
  /** By `materialAt` of the policy. */
  readonly costs: Readonly<
    Record<NonNullable<PricePolicy["materialAt"]>, Readonly<Record<string, PackCost>>>
  >;
}

/** Where money goes, in the order of the bar. */
const SHARES = ["material", "jar", "labour", "overhead", "profit", "tax"] as const;
export type ShareName = (typeof SHARES)[number];

const SHARE_OF_LINE: Readonly<Record<PriceLine["what"], ShareName>> = {
  material: "material",
  jar: "jar",
  label: "jar",
  labour: "labour",
  overhead: "overhead",
  profit: "profit",
  least: "profit",
  rounding: "profit", // what rounding up adds, the maker keeps
  tax: "tax",
};

export interface TrialLine {
  readonly what: PriceLine["what"];
  readonly of: ShareName;
  /** Name of the ingredient of a material line; empty otherwise. */
  readonly name: string;
  readonly minor: number;
}

export interface Trial {
  readonly jar: Jar;
  readonly jarMinor: number;
  readonly per100gMinor: number;
  /** What a customer pays for it, with tax that comes on top [minor units] */
  readonly paidMinor: number;
  /** The sum of its lines, each rounded [minor units] */
  readonly costMinor: number;
  /** What is left of the price when cost and tax are paid [minor units] */
  readonly keptMinor: number;
  readonly marginShare: number | undefined;
  readonly askedShare: number;
  readonly lines: readonly TrialLine[];
  readonly shares: readonly { readonly name: ShareName; readonly minor: number }[];
  /** Sentences about limits that the price meets. */
  readonly notes: readonly string[];
}

/**
 * Try a policy.
 * @param key of a blend of the ground
 * @returns the trial, or sentences that say why there is no price
 */
export function tryPolicy(
  ground: TrialGround,
  policy: PricePolicy,
  key: string,
  jarId: string,
): Trial | { readonly because: readonly string[] } {
  const jar = ground.jars.find(({ id }) => id === jarId);
  const blend = ground.blends.find((each) => each.key === key);
  if (!jar) return { because: ["This product has no jar yet. Add one, then try its price."] };
  if (!blend) return { because: ["This product has no base yet. Write one, then try its price."] };
  if (blend.trouble !== "") return { because: [blend.trouble] };
  const names = new Map(blend.parts.map(({ id, name }) => [id, name]));
  const say = (found: Finding) => sayFinding(found, (id) => names.get(id) ?? id);
  const costs = ground.costs[policy.materialAt ?? "pack"];
  const { mostMinor, ...open } = policy; // priced beyond the greatest too, so that it can be told by how much
  const made = makeTariff(open, jar, costs, [...names.keys()]);
  if ("findings" in made) return { because: made.findings.map(say) };
  const priced = priceJar(made.tariff, blendOf(blend));
  if ("findings" in priced) return { because: priced.findings.map(say) };
  const { jarMinor } = priced;
  const broken = explainPrice(jarMinor, blendOf(blend), policy, jar, costs);
  const lines = broken.lines
    .filter(({ minor, what }) => minor !== 0 || what === "profit")
    .map(({ what, subject, minor }) => {
      const name = subject === undefined ? "" : (names.get(subject) ?? subject);
      return { what, of: SHARE_OF_LINE[what], name, minor };
    });
  const shares = sharesOf(lines);
  const keptMinor = shares.find(({ name }) => name === "profit")!.minor;
  return {
    jar,
    jarMinor,
    per100gMinor: pricePer100g(jarMinor, jar.fillG),
    paidMinor: jarMinor + taxOnTopMinor(jarMinor, taxOnTopOf(policy)),
    costMinor: jarMinor - broken.taxMinor - keptMinor,
    keptMinor,
    marginShare: marginShareOf(jarMinor, blendOf(blend), policy, jar, costs),
    askedShare: marginShareAsked(policy),
    lines,
    shares: shares.filter(({ minor }) => minor > 0),
    notes: notesOf(broken, mostMinor?.[jar.id]),
  };
}

function blendOf({ parts }: TrialBlend) {
  return { parts: parts.map(({ id, share }) => ({ ingredient: { id }, share })) };
}

function sharesOf(lines: readonly TrialLine[]) {
  return SHARES.map((name) => ({
    name,
    minor: lines.reduce((sum, line) => sum + (line.of === name ? line.minor : 0), 0),
  }));
}

function notesOf({ lines, jarMinor }: PriceBreakdown, mostMinor: number | undefined): string[] {
  const notes: string[] = [];
  if (mostMinor !== undefined && jarMinor > mostMinor) {
    notes.push("This blend is dearer than your greatest price, so a customer cannot order it.");
  }
  if (lines.some(({ what, minor }) => what === "least" && minor > 0)) {
    notes.push("Your least price lifts this jar above what the policy asks.");
  }
  return notes;
}
