/**
 * What could stand in for an ingredient in a base, ranked and in words.
 */
import { composeBlend } from "#core/compose/compose.ts";
import { type Base, type Product, startingChoice } from "#core/compose/product.ts";
import type { Ingredient } from "#core/ingredient.ts";
import { sayStandIn } from "#core/order/stand-in-words.ts";
import { allowedInstead, rankStandIns } from "#core/order/stand-in.ts";
import { type Desk, nameOf, shelfFault } from "./desk.ts";
import { inSeason } from "./judge-base.ts";
import { shelfOf } from "./sheets/choices.ts";

/** More candidates than this nobody reads. */
const SHOWN = 8;

const MARKS = { orderable: "●", "cannot-judge": "?", refused: "✕" } as const;

export interface StandInWords {
  /** Why nothing is ranked; empty when something is. */
  readonly unable: string;
  /** Where the candidates come from. */
  readonly from: string;
  readonly rows: readonly {
    readonly mark: string;
    readonly name: string;
    readonly words: string;
  }[];
}

/**
 * Rank what could take the whole share of an ingredient in a base as it starts.
 * @param missing id of an ingredient of the base
 */
export function standInWords(
  written: Product,
  base: Base,
  missing: string,
  { desk, shipDay }: { readonly desk: Desk; readonly shipDay: string },
): StandInWords {
  const product = inSeason(written, desk, shipDay);
  const composed = composeBlend(product, startingChoice(base), desk.ingredientOf);
  if (!("blend" in composed)) {
    return { unable: "This base makes no blend yet.", from: "", rows: [] };
  }
  const inPlace = allowedInstead(product, base, missing);
  const candidates = inPlace.length > 0 ? usable(desk, inPlace) : othersOfItsKind(desk, missing);
  const { useCelsius, airFraction, rules } = product;
  const law = desk.law ? { law: desk.law } : {};
  const ground = { useCelsius, airFraction, rules, costs: desk.costs, ...law };
  const ranked = rankStandIns(composed.blend, missing, candidates, ground).slice(0, SHOWN);
  return {
    unable: ranked.length === 0 ? "There is nothing else of its kind to try." : "",
    from: inPlace.length > 0 ? "Oils its place allows" : "Others of its kind on your shelf",
    rows: ranked.map((standIn) => ({
      mark: MARKS[standIn.verdict],
      name: nameOf(desk, standIn.ingredient),
      words: sayStandIn(
        standIn,
        (id) => nameOf(desk, id),
        (family) => family.replaceAll("-", " "),
      ),
    })),
  };
}

function usable(desk: Desk, ids: readonly string[]): Ingredient[] {
  return ids.flatMap((id) => {
    const ingredient = shelfFault(desk, id) === "" ? desk.ingredientOf(id) : undefined;
    return ingredient ? [ingredient] : [];
  });
}

/** One of each fat on the shelf: a shelf may hold thousands of rows, of far fewer fats. */
function othersOfItsKind(desk: Desk, missing: string): Ingredient[] {
  const kind = desk.ingredientOf(missing)?.kind;
  const fats = new Map<string, string>();
  for (const { id, kind: its, standing } of shelfOf(desk)) {
    const fat = desk.shelf.get(id)!.libraryId;
    if (id !== missing && its === kind && standing && !fats.has(fat)) fats.set(fat, id);
  }
  return usable(desk, [...fats.values()]);
}
