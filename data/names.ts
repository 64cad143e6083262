/**
 * The common names of the library's ingredients in other languages (`library/names/`), as shops of those countries sell
 * them; from memory, since no list of them is a standard. The standard name is the INCI name, which is what stands
 * where a common one is missing.
 */
import type { Ingredient } from "#core/ingredient.ts";
import { INGREDIENT_IDS, ingredientById } from "./library.ts";
import german from "./library/names/de.json";
import spanish from "./library/names/es.json";
import french from "./library/names/fr.json";

const NAMES: Readonly<Record<string, Readonly<Record<string, string>>>> = {
  de: german,
  es: spanish,
  fr: french,
};

const ID_BY_NAME = new Map(INGREDIENT_IDS.map((id) => [ingredientById(id)!.name, id]));

/**
 * What an ingredient is called in a language.
 * @param language BCP 47 tag; one without names here gives the English ones
 * @returns a name the maker typed stays as it is typed
 */
export function nameIn(
  language: string,
  { name, inci }: Pick<Ingredient, "name" | "inci">,
): string {
  const names = NAMES[language.toLowerCase().split("-")[0]!];
  const id = ID_BY_NAME.get(name);
  return names && id !== undefined ? (names[id] ?? inci) : name;
}
