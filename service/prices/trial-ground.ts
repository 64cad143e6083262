/**
 * The blends of a product that a price can be tried on: each base as the maker wrote it, and the dearest its
 * bounds allow.
 */
import { composeBlend } from "#core/compose/compose.ts";
import {
  type Base,
  type Choice,
  type Product,
  ingredientsOf,
  startingChoice,
} from "#core/compose/product.ts";
import { sayFinding } from "#core/finding.ts";
import { dearestChoice } from "#core/price/dearest.ts";
import type { PricePolicy } from "#core/price/policy.ts";
import type { Desk } from "../products/desk.ts";
import { TILL_CURRENCIES, type TillCurrency } from "../tills/currency-table.ts";
import type { Costs } from "./material-costs.ts";
import type { TrialBlend, TrialGround } from "./what-if.ts";

/** How the shop's money is counted; a currency no till knows is counted as the shop says. */
export function currencyOf({ shop }: Pick<Desk, "shop">): TillCurrency {
  const { currency: code, currencyExponent: exponent } = shop;
  const known = TILL_CURRENCIES.get(code);
  return known?.exponent === exponent ? known : { code, exponent, stepMinor: 1, least: undefined };
}

/**
 * What a product's price can be tried on.
 * @param product may be unfinished: a blend that is no blend yet says why
 * @param lotCosts the dearest lots on hand
 */
export function trialGround(
  product: Product,
  { materialAt = "pack" }: Pick<PricePolicy, "materialAt">,
  desk: Desk,
  lotCosts: Costs,
): TrialGround {
  const packs = costsOf(ingredientsOf(product), desk.costs);
  const costs = { pack: packs, "dearest-lot": { ...packs, ...lotCosts } };
  const rateOf = (id: string) => {
    const cost = costs[materialAt][id];
    return cost && cost.packMinor / cost.packMg;
  };
  return {
    currency: currencyOf(desk),
    locale: desk.shop.locale,
    jars: product.jars,
    costs,
    blends: product.bases.flatMap((base) => {
      const start = trialBlend(product, base, "start", startingChoice(base), desk);
      const dearest = dearestChoice(product, base, rateOf);
      return dearest ? [start, trialBlend(product, base, "dearest", dearest, desk)] : [start];
    }),
  };
}

/** No more than the page needs: a shelf may hold thousands. */
function costsOf(ids: readonly string[], costs: Costs): Costs {
  return Object.fromEntries(
    ids.flatMap((id) => {
      const cost = costs[id];
      return cost ? [[id, cost]] : [];
    }),
  );
}

const WHICH = { start: "as you wrote it", dearest: "the dearest its bounds allow" };

function trialBlend(
  product: Product,
  base: Base,
  which: keyof typeof WHICH,
  choice: Choice,
  { ingredientOf }: Desk,
): TrialBlend {
  const composed = composeBlend(product, choice, ingredientOf);
  const nameOf = (id: string) => ingredientOf(id)?.name ?? id;
  const named = { key: `${base.id} ${which}`, name: `${base.name}, ${WHICH[which]}` };
  if ("findings" in composed) {
    const why = composed.findings.map((found) => sayFinding(found, nameOf)).join(" ");
    return { ...named, parts: [], trouble: `${base.name} is not finished. ${why}` };
  }
  const parts = composed.blend.parts.map(({ ingredient: { id, name }, share }) => {
    return { id, name, share };
  });
  return { ...named, parts, trouble: "" };
}
