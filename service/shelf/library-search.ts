/**
 * Finding a fat of the library by what people call it: its name, its INCI name or its id.
 */
import { INGREDIENT_IDS, ingredientById } from "#data/library.ts";
import type { Ingredient } from "#core/ingredient.ts";

const folded = (text: string) =>
  text.normalize("NFKD").replaceAll(/\p{M}/gu, "").toLowerCase().replaceAll(/\s+/g, " ").trim();

const ENTRIES = INGREDIENT_IDS.map((id) => {
  const ingredient = ingredientById(id)!;
  return { ingredient, words: folded(`${ingredient.name} ${ingredient.inci} ${id}`) };
});

/** Ingredients in which every word typed is found; all of them for no words, the best known name first. */
export function searchLibrary(typed: string): Ingredient[] {
  const words = folded(typed).split(" ").filter(Boolean);
  return ENTRIES.filter((entry) => words.every((word) => entry.words.includes(word))).map(
    ({ ingredient }) => ingredient,
  );
}

const NAMED = new Map(
  ENTRIES.flatMap(({ ingredient }) =>
    [ingredient.inci, ingredient.name, ingredient.id].map((each) => [folded(each), ingredient]),
  ),
);

/** The one ingredient that a text names by id, name or INCI name exactly. */
export function namedInLibrary(typed: string): Ingredient | undefined {
  return NAMED.get(folded(typed));
}
