/** Small products and helpers for the tests of the room. */
import type { Base, Choice, Product } from "#core/compose/product.ts";
import { composeBlend } from "#core/compose/compose.ts";
import type { Ingredient } from "#core/ingredient.ts";
import { judgeBlend } from "#core/judge/verdict.ts";
import type { Rules } from "#core/judge/verdict.ts";
import { spaceOf } from "#core/order/room/space.ts";
import { ingredientById } from "#data/library.ts";

export const bound = (least: number, greatest: number) => ({ least, greatest });

export const ROOM_BASE: Base = {
  id: "plain",
  name: "Plain",
  words: "",
  butters: [
    { ingredient: "shea-butter", share: 5500, least: 4000, greatest: 7000 },
    { ingredient: "cocoa-butter", share: 1500, least: 500, greatest: 3000 },
  ],
  oils: [
    { place: "light", ingredient: "sunflower-oil", share: 1500, least: 500, greatest: 3000 },
    { place: "rich", ingredient: "olive-oil", share: 1450, least: 500, greatest: 3000 },
  ],
};

export const ROOM_PRODUCT: Product = {
  id: "plain-butter",
  name: "Plain butter",
  words: "",
  places: [
    { id: "light", name: "Light oil", allowed: ["sunflower-oil", "jojoba-oil"] },
    { id: "rich", name: "Rich oil", allowed: ["olive-oil", "castor-oil", "sesame-oil"] },
  ],
  bases: [ROOM_BASE],
  additives: [{ ingredient: "tocopherol", share: 50 }],
  jars: [{ id: "jar-100", name: "100 g", fillG: 100 }],
  quantityMost: 12,
  useCelsius: 21,
  airFraction: 0.35,
  rules: { firmness: ["soft", "firm"], softensAboveLeastCelsius: 26 },
};

export const withRules = (rules: Rules): Product => ({ ...ROOM_PRODUCT, rules });

/** The same with one base changed. */
export const withBase = (base: Partial<Base>, rules: Rules = ROOM_PRODUCT.rules): Product => ({
  ...ROOM_PRODUCT,
  rules,
  bases: [{ ...ROOM_BASE, ...base }],
});

export const GROUND = { ingredientOf: ingredientById };

export const spaceFor = (
  product: Product,
  ingredientOf: (id: string) => Ingredient | undefined = ingredientById,
) => spaceOf(product, product.bases[0]!, ingredientOf);

export const judgingOf = ({ useCelsius, airFraction, rules }: Product) => ({
  ...{ useCelsius, airFraction, rules },
});

/** The verdict as the shop gives it. */
export function verdictOf(product: Product, choice: Choice) {
  const composed = composeBlend(product, choice, ingredientById);
  if ("findings" in composed) throw new Error(composed.findings.map(({ code }) => code).join());
  return judgeBlend(composed.blend, { ...judgingOf(product), celsius: [] });
}
