/**
 * A product's page as it stands without a script: the maker's own bases, what a jar of each costs, and a form to order
 * one as it is.
 */
import { composeBlend } from "#core/compose/compose.ts";
import { type Base, startingChoice } from "#core/compose/product.ts";
import { type Finding, sayFinding } from "#core/finding.ts";
import { priceJar, pricePer100g } from "#core/price/price.ts";
import type { ProductOffer } from "#core/wire.ts";
import { nameIn } from "#data/names.ts";
import { judgeChoice } from "../actions/judge-choice.ts";
import type { Offer } from "../actions/offer.ts";
import { particularsOf } from "../particulars.ts";
import type { ShopRow } from "../storage/shops.ts";
import { speechIn } from "../words/speak.ts";
import { sayWithdrawal } from "./disclosure-words.ts";
import { structuredData } from "./structured-data.ts";

/** What was asked for in the form; all text, as it was typed. */
export interface PlainFields {
  readonly base: string;
  readonly jar: string;
  readonly quantity: string;
  readonly zone: string;
}

export interface ShopPageSays {
  /** Address of the shop, without a slash at its end. */
  readonly url: string;
  readonly fields?: PlainFields;
  /** Why the form was not taken; empty when it was not sent. */
  readonly faults?: readonly string[];
}

/** Everything the template of a product asks for. */
export function shopPage(offer: Offer, owner: ShopRow, { url, fields, faults = [] }: ShopPageSays) {
  const { product, currency, locale, taxOnTop, withdrawal, practice } = offer.wire;
  const judged = product.bases.map((base) => judgedBase(offer, base));
  const first = judged.find(({ isOrderable }) => isOrderable);
  const asked = fields ?? { base: first?.id ?? "", jar: "", quantity: "1", zone: "" };
  const prices = judged.filter(({ isOrderable }) => isOrderable).flatMap(({ jars }) => jars);
  const told = prices.flatMap(({ priced }) => (priced ? [priced.jarMinor] : []));
  return {
    ...{ title: `${product.name}, ${owner.name}`, shop: owner, product, currency, locale, faults },
    bases: judged.map((base) => ({ ...base, isChosen: base.id === asked.base })),
    jars: product.jars.map((jar) => ({ ...jar, isChosen: jar.id === asked.jar })),
    quantity: asked.quantity,
    zones: zonesAsked(offer.wire, owner, asked.zone),
    canOrder: first !== undefined,
    taxOnTop: taxOnTop !== undefined,
    withdrawal: sayWithdrawal(withdrawal, locale),
    structuredData: structuredData({
      ...{ name: product.name, words: product.words, url: `${url}/shop/${product.id}` },
      ...{ seller: owner.name, currency, taxOnTop: taxOnTop !== undefined },
      leastMinor: told.length > 0 ? Math.min(...told) : undefined,
      isForSale: !practice,
    }),
  };
}

/** A base as the maker starts it, judged and priced; one that does not pass is shown with the reason. */
function judgedBase({ wire, ground }: Offer, base: Base) {
  const { product, ingredients, tariffs, locale } = wire;
  const { id, name, words } = base;
  const choice = startingChoice(base);
  const composed = composeBlend(product, choice, ground.ingredientOf);
  const nameOf = (of: string) => {
    const known = ingredients.find((each) => each.id === of);
    return known ? nameIn(locale, known) : of;
  };
  const reasonOf = (findings: readonly Finding[]) =>
    findings.map((each) => sayFinding(each, nameOf, speechIn(locale)))[0];
  if ("findings" in composed) {
    const reason = reasonOf(composed.findings) ?? "";
    return { id, name, words, isOrderable: false, reason, parts: [], jars: [] };
  }
  const { blend, judgement } = judgeChoice(product, choice, ground);
  const isOrderable = judgement.verdict === "orderable";
  return {
    ...{
      id,
      name,
      words,
      isOrderable,
      parts: blend.parts.map(({ ingredient, share }) => ({ name: nameOf(ingredient.id), share })),
    },
    reason: isOrderable ? "" : (reasonOf(judgement.findings) ?? ""),
    jars: product.jars.map((jar) => {
      const priced = priceJar(tariffs[jar.id]!, blend);
      if ("findings" in priced) return { ...jar, priced: undefined };
      const { jarMinor } = priced;
      return { ...jar, priced: { jarMinor, per100gMinor: pricePer100g(jarMinor, jar.fillG) } };
    }),
  };
}

/** Where the parcel may go, where that decides what can be ordered. */
function zonesAsked({ product }: ProductOffer, owner: ShopRow, asked: string) {
  const { zones = [] } = particularsOf(owner);
  if (product.parcelMarginCelsius === undefined || zones.length < 2) return [];
  return zones.map(({ id, name }) => ({ id, name, isChosen: id === asked }));
}
