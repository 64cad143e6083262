/**
 * Ingredients to choose from: what is on the maker's shelf, grouped by kind, and whatever the sheet names already.
 */
import type { IngredientKind } from "#core/ingredient.ts";
import type { Desk } from "../desk.ts";

const KIND_WORDS: Readonly<Record<IngredientKind, string>> = {
  butter: "Butters",
  wax: "Waxes",
  oil: "Oils",
  powder: "Powders",
  additive: "Additives",
};

export interface ChoiceGroup {
  readonly words: string;
  readonly options: readonly {
    readonly id: string;
    readonly name: string;
    readonly chosen: boolean;
  }[];
}

interface Choice {
  readonly id: string;
  readonly name: string;
  readonly kind: IngredientKind;
  readonly standing: boolean;
}

/** The shelf in the order of its names. */
export function shelfOf(desk: Desk): Choice[] {
  return [...desk.shelf.values()]
    .flatMap(({ id, archivedAt }) => {
      const ingredient = desk.ingredientOf(id);
      if (!ingredient) return [];
      const { name, kind } = ingredient;
      return [{ id, name, kind, standing: archivedAt === null }];
    })
    .sort((one, other) => one.name.localeCompare(other.name, desk.shop.locale));
}

/**
 * Groups for a list to choose from.
 * @param kinds offered, in this order
 * @param chosen id that stands in the field; it is listed whatever became of it
 * @param note something to say behind a name
 */
export function choicesOf(
  desk: Desk,
  kinds: readonly IngredientKind[],
  chosen: string,
  note: (id: string) => string = () => "",
): ChoiceGroup[] {
  const shelf = shelfOf(desk);
  const groups = kinds.map((kind) => ({
    words: KIND_WORDS[kind],
    options: shelf
      .filter((each) => each.kind === kind && (each.standing || each.id === chosen))
      .map(({ id, name, standing }) => ({
        id,
        name: `${name}${standing ? note(id) : " (put away)"}`,
        chosen: id === chosen,
      })),
  }));
  const isListed = groups.some(({ options }) => options.some(({ id }) => id === chosen));
  if (chosen !== "" && !isListed) {
    const name = `${desk.ingredientOf(chosen)?.name ?? chosen} (not on your shelf)`;
    groups.push({ words: "Missing", options: [{ id: chosen, name, chosen: true }] });
  }
  return groups.filter(({ options }) => options.length > 0);
}
