/**
 * Prices of the choices in the room: by the tariff, as the customer would be asked to pay.
 */
import type { Finding } from "../../finding.ts";
import { priceJar } from "../../price/price.ts";
import type { Tariff } from "../../price/tariff.ts";
import type { Point, Space } from "./space.ts";

/** By jar id. */
export type Tariffs = Readonly<Record<string, Tariff>>;

export type JarPrice = { readonly jarMinor: number } | { readonly findings: readonly Finding[] };

/** Price of a choice in a jar. */
export function priceOf(
  { slots, ingredients, additives }: Space,
  { options, shares }: Point,
  tariff: Tariff,
): JarPrice {
  const parts = slots.map((slot, at) => ({
    ingredient: ingredients[slot.options[options[at]!]!]!,
    share: shares[at]!,
  }));
  for (const { ingredient, share } of additives) {
    parts.push({ ingredient: ingredients[ingredient]!, share });
  }
  return priceJar(tariff, { parts: parts.filter(({ share }) => share > 0) });
}

/** What the shares of a choice cost before anything fixed is added; nothing when a rate is missing. */
export function rateOf(space: Space, tariff: Tariff): ((point: Point) => number) | undefined {
  const { slots, ingredients, additives } = space;
  const rateAt = (ingredient: number) => tariff.rateNano[ingredients[ingredient]!.id] ?? NaN;
  const rates = slots.map((slot) => slot.options.map(rateAt));
  const always = additives.reduce(
    (sum, { ingredient, share }) => sum + share * rateAt(ingredient),
    0,
  );
  if (Number.isNaN(always) || rates.flat().some(Number.isNaN)) return undefined;
  return ({ options, shares }) =>
    rates.reduce((sum, own, at) => sum + own[options[at]!]! * shares[at]!, always);
}
