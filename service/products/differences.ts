/**
 * What differs between two states of a product, in words a maker reads:
 * "Soft shea, Cocoa butter: at most 30 % → 25 %".
 */
import type { Base, Product } from "#core/compose/product.ts";
import type { PricePolicy } from "#core/price/policy.ts";
import { type Desk, nameOf } from "./desk.ts";
import { percentWords } from "./fields.ts";
import { sayLabel } from "./label-notes.ts";
import { sayPolicy } from "../prices/policy-words.ts";

export interface Documents {
  readonly product: Product;
  readonly pricePolicy: PricePolicy;
}

type Said = Readonly<Record<string, string>>;

/**
 * Everything that differs.
 * @returns a sentence for each; none when the two are the same
 */
export function differencesOf(from: Documents, to: Documents, desk: Desk): string[] {
  const before = sayAll(from, desk);
  const after = sayAll(to, desk);
  const keys = [...new Set([...Object.keys(before), ...Object.keys(after)])];
  return keys.flatMap((key) => {
    const [one, other] = [before[key], after[key]];
    if (one === other) return [];
    if (one === undefined) return [`${key}: new, ${other}`];
    if (other === undefined) return [`${key}: taken out (was ${one})`];
    return [`${key}: ${one} → ${other}`];
  });
}

/** Every figure of a product under the name a maker knows it by. */
export function sayAll({ product, pricePolicy }: Documents, desk: Desk): Said {
  return {
    Name: quoted(product.name),
    "Shop text": quoted(product.words),
    ...sayPlaces(product, desk),
    ...Object.assign({}, ...product.bases.map((base) => sayBase(product, base, desk))),
    ...Object.fromEntries(
      product.additives.map(({ ingredient, share }) => [
        `Additive ${nameOf(desk, ingredient)}`,
        percentWords(share),
      ]),
    ),
    ...Object.fromEntries(
      product.jars.map(({ name, fillG }) => [`Jar ${quoted(name)}`, `${fillG}\u00a0g`]),
    ),
    "Most jars in an order": String(product.quantityMost),
    "Room temperature": celsius(product.useCelsius),
    Air: `${Math.round(product.airFraction * 1000) / 10}\u00a0%`,
    ...sayRules(product),
    ...sayLabel(product),
    ...sayPolicy(pricePolicy, product.jars, desk),
  };
}

function sayPlaces({ places }: Product, desk: Desk): Said {
  return Object.fromEntries(
    places.map(({ name, allowed }) => [
      `Oils allowed as ${quoted(name)}`,
      allowed.map((id) => nameOf(desk, id)).join(", ") || "none",
    ]),
  );
}

function sayBase({ places }: Product, base: Base, desk: Desk): Said {
  const said: Record<string, string> = { [`Base ${base.name}`]: quoted(base.words) };
  const parts = [
    ...base.butters.map((part) => ({ ...part, title: nameOf(desk, part.ingredient) })),
    ...base.oils.map((part) => {
      const place = places.find(({ id }) => id === part.place)?.name ?? part.place;
      said[`${base.name}, ${place}: starts with`] = nameOf(desk, part.ingredient);
      return { ...part, title: place };
    }),
  ];
  for (const { title, share, least, greatest } of parts) {
    said[`${base.name}, ${title}: share`] = percentWords(share);
    said[`${base.name}, ${title}: at least`] = percentWords(least);
    said[`${base.name}, ${title}: at most`] = percentWords(greatest);
  }
  return said;
}

function sayRules({ rules, parcelMarginCelsius }: Product): Said {
  const { firmness, softensAboveLeastCelsius, poreRatingMost } = rules;
  const trace = rules.poreTraceBelowShare;
  return {
    Firmness: firmness ? firmness.join(" to ") : "not ruled",
    "Softens above at least":
      softensAboveLeastCelsius === undefined ? "not ruled" : celsius(softensAboveLeastCelsius),
    "Margin over the parcel":
      parcelMarginCelsius === undefined ? "no season" : celsius(parcelMarginCelsius),
    "Pore rating at most": poreRatingMost === undefined ? "not ruled" : String(poreRatingMost),
    "Reading of a disputed pore rating": rules.poreReading ?? "value",
    "Traces do not count below": trace === undefined ? "all count" : percentWords(trace),
    "Least confidence of a pore rating": rules.poreConfidenceLeast ?? "any",
    "An unrated ingredient": rules.unrated ?? "cannot-judge",
    Strictness: rules.strictness ?? "whole-band",
  };
}

function quoted(text: string): string {
  return `“${text}”`;
}

function celsius(value: number): string {
  return `${value}\u00a0°C`;
}
