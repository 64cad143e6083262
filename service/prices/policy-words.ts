/**
 * A price policy in words and money, for what differs between two versions of a product.
 */
import type { Jar } from "#core/compose/product.ts";
import type { PricePolicy } from "#core/price/policy.ts";
import { helpers } from "../documents/helpers.ts";
import type { Desk } from "../products/desk.ts";
import { percentWords } from "../products/fields.ts";

const MATERIALS = { pack: "the pack price", "dearest-lot": "the dearest lot on hand" } as const;

/** Every figure of a policy under the name that its sheet gives it; what is not said is left out. */
export function sayPolicy(
  policy: PricePolicy,
  jars: readonly Jar[],
  { shop }: Pick<Desk, "shop">,
): Readonly<Record<string, string>> {
  const currency = { code: shop.currency, exponent: shop.currencyExponent };
  const money = (minor: number) => helpers.money(minor, currency, shop.locale);
  const { profit, overheadPerJarMinor, overheadShare, taxShare, taxIncluded = true } = policy;
  const tax = taxIncluded ? "in the price" : "on top of the price";
  const perJar = (what: string, of: Readonly<Record<string, number>> = {}) =>
    Object.entries(of).map(([id, minor]) => {
      const name = jars.find((jar) => jar.id === id)?.name ?? id;
      return [`${what}, “${name}”`, money(minor)] as const;
    });
  return Object.fromEntries([
    ["Price, material at", MATERIALS[policy.materialAt ?? "pack"]],
    ["Loss allowance", percentWords(policy.lossShare)],
    ...perJar("Jar and lid", policy.jarMinor),
    ...perJar("Least price", policy.leastMinor),
    ...perJar("Greatest price", policy.mostMinor),
    ["Label and carton", money(policy.labelMinor)],
    ["Labour for one jar", money(policy.labourPerJarMinor)],
    ["Labour for one batch", money(policy.labourPerBatchMinor)],
    ["Jars in a usual batch", String(policy.jarsPerBatch)],
    ...(overheadPerJarMinor === undefined
      ? []
      : [["Overheads for one jar", money(overheadPerJarMinor)] as const]),
    ...(overheadShare === undefined
      ? []
      : [["Overheads as a part", percentWords(overheadShare)] as const]),
    [
      "Profit",
      `${percentWords(profit.share)} of the ${profit.kind === "margin" ? "price before tax" : "cost"}`,
    ],
    ["Tax", taxShare === 0 ? "none" : `${percentWords(taxShare)}, ${tax}`],
    ["Price rounded up to", money(policy.roundUpToMinor)],
  ]);
}
