/**
 * The form for a test jar as the page shows it: choices with what was typed still in place.
 */
import type { Product } from "#core/compose/product.ts";
import type { IngredientKind } from "#core/ingredient.ts";
import { FIRMNESS_CLASSES, type FirmnessClass } from "#core/judge/firmness.ts";
import { INGREDIENT_IDS, ingredientById } from "#data/library.ts";
import { baseKey } from "../kitchen/jar-blend.ts";
import { BY_CONE, type JarFields } from "../kitchen/jar-fields.ts";

/** How a finger tells the classes, on a jar that nobody has stirred. Our own words. */
const FINGER: Readonly<Record<FirmnessClass, string>> = {
  fluid: "runs or slumps when the jar is tilted",
  soft: "the finger sinks in almost by itself",
  firm: "gives to a steady press and keeps the dent",
  hard: "a nail marks it, a fingertip does not",
};

const KINDS = {
  butter: "Butters",
  oil: "Oils",
  wax: "Waxes",
  powder: "Powders",
  additive: "Additives",
} as const satisfies Record<IngredientKind, string>;

/** Choices and values of the form. */
export function jarFormModel(fields: JarFields, products: readonly Product[]) {
  const { parts, felt, ...typed } = fields;
  return {
    ...typed,
    bases: products.flatMap((product) =>
      product.bases.map((base) => {
        const key = baseKey(product.id, base.id);
        return { key, title: `${product.name}, ${base.name}`, chosen: key === fields.base };
      }),
    ),
    rows: parts.map(({ ingredient, percent }, at) => ({
      number: at + 1,
      typed: percent,
      kinds: ingredientChoices(ingredient),
    })),
    written: parts.some(({ ingredient, percent }) => ingredient !== "" || percent !== ""),
    grades: FIRMNESS_CLASSES.map((grade) => ({
      grade,
      words: FINGER[grade],
      chosen: grade === felt,
    })),
    byCone: BY_CONE,
    coned: felt === BY_CONE,
  };
}

function ingredientChoices(chosen: string) {
  return Object.entries(KINDS).map(([kind, words]) => ({
    words,
    ingredients: INGREDIENT_IDS.map((id) => ingredientById(id)!)
      .filter((each) => each.kind === kind && each.composition.kind !== "unknown")
      .map(({ id, name }) => ({ id, name, chosen: id === chosen })),
  }));
}
