/**
 * The page on which a first shelf is filled.
 */
import { type Fault, faultOf } from "../typed/fault.ts";
import { FIRST_SHELF, type FirstPack } from "../shelf/first-shelf.ts";
import type { IngredientRow } from "../storage/ingredients.ts";
import { countWords } from "../words/count-words.ts";
import { hrefOf } from "./maker-shelf.ts";
import { type Said, faultLinks } from "./maker-shelf-words.ts";

export interface StartSays {
  readonly packs: ReadonlyMap<string, FirstPack>;
  readonly faults: readonly Fault[];
  /** How many were put on the shelf a moment ago. */
  readonly added: number;
}

const GROUPS = [
  ["butter", "Butters"],
  ["oil", "Oils"],
] as const;

export function shelfStartPage(
  { currency }: Said,
  standing: readonly IngredientRow[],
  { packs, faults, added }: StartSays,
) {
  const cell = (field: string, label: string, value: string) => ({
    ...{ id: `f-${field}`, name: field, label, value, fault: faultOf(faults, field) },
  });
  const groups = GROUPS.map(([kind, words]) => ({
    words,
    rows: FIRST_SHELF.filter((each) => each.kind === kind).map(({ id, name, inci }) => {
      const own = standing.find((row) => row.libraryId === id);
      const { pack = "", price = "" } = packs.get(id) ?? {};
      return {
        ...{ name, inci, stands: own !== undefined },
        href: own ? hrefOf(own.id) : "",
        state: own ? stateOf(own) : "",
        pack: cell(`pack-${id}`, `Pack of ${name}`, pack),
        price: cell(`price-${id}`, `Price of ${name}`, price),
      };
    }),
  }));
  return {
    title: "Fill the shelf",
    added: added > 0 ? `${countWords(added, "ingredient")} put on the shelf.` : "",
    currency: currency.code,
    groups,
    faults: faultLinks(faults),
    isFull: groups.every(({ rows }) => rows.every(({ stands }) => stands)),
    ...{ overtaken: false, meanwhile: [] },
  };
}

function stateOf({ archivedAt, packMinor }: IngredientRow): string {
  if (archivedAt !== null) return "put away";
  return packMinor === null ? "on the shelf, no price yet" : "on the shelf";
}
