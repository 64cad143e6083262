/**
 * What could stand in for an ingredient that ran out, base by base.
 */
import { composeBlend } from "#core/compose/compose.ts";
import { startingChoice } from "#core/compose/product.ts";
import { sayStandIn } from "#core/order/stand-in-words.ts";
import { allowedInstead, rankStandIns } from "#core/order/stand-in.ts";
import { nameOf, shelfFault } from "../products/desk.ts";
import { inSeason } from "../products/judge-base.ts";
import type { OpenProduct } from "../products/open-product.ts";
import { shelfOf } from "../products/sheets/choices.ts";
import { productHref } from "./maker-product.ts";

/** More candidates than this nobody reads. */
const SHOWN = 8;

const MARKS = { orderable: "●", "cannot-judge": "?", refused: "✕" } as const;

/** Model of the page for the ingredient asked for. */
export function standInPage(open: OpenProduct, missing: string) {
  const { product } = open.stored.document;
  const used = [
    ...new Set(
      product.bases.flatMap(({ butters, oils }) =>
        [...butters, ...oils].map(({ ingredient }) => ingredient),
      ),
    ),
  ];
  const asked = used.includes(missing) ? missing : "";
  const bases = product.bases.filter(({ butters, oils }) =>
    [...butters, ...oils].some(({ ingredient }) => ingredient === asked),
  );
  return {
    choices: used
      .map((id) => ({ value: id, words: nameOf(open.desk, id), chosen: id === asked }))
      .toSorted((one, other) => one.words.localeCompare(other.words)),
    asked: asked === "" ? "" : nameOf(open.desk, asked),
    anyBases: product.bases.length > 0,
    bases: bases.map((base) => baseModel(open, base.id, asked)),
  };
}

function baseModel({ stored, desk, shipDay }: OpenProduct, baseId: string, missing: string) {
  const product = inSeason(stored.document.product, desk, shipDay);
  const base = product.bases.find(({ id }) => id === baseId)!;
  const href = `${productHref(product.id)}/bases/${encodeURIComponent(base.id)}`;
  const composed = composeBlend(product, startingChoice(base), desk.ingredientOf);
  if (!("blend" in composed)) {
    return { name: base.name, href, unable: "This base makes no blend yet.", from: "", rows: [] };
  }
  const inPlace = allowedInstead(product, base, missing);
  const kind = desk.ingredientOf(missing)?.kind;
  const ids =
    inPlace.length > 0
      ? inPlace
      : shelfOf(desk).flatMap((each) => (each.kind === kind && each.standing ? [each.id] : []));
  const candidates = ids.flatMap((id) => {
    const ingredient = shelfFault(desk, id) === "" ? desk.ingredientOf(id) : undefined;
    return ingredient ? [ingredient] : [];
  });
  const { useCelsius, airFraction, rules } = product;
  const ground = {
    useCelsius,
    airFraction,
    rules,
    costs: desk.costs,
    ...(desk.law ? { law: desk.law } : {}),
  };
  const ranked = rankStandIns(composed.blend, missing, candidates, ground).slice(0, SHOWN);
  const name = (id: string) => nameOf(desk, id);
  return {
    name: base.name,
    href,
    unable: ranked.length === 0 ? "There is nothing else of its kind to try." : "",
    from: inPlace.length > 0 ? "Oils its place allows" : "Others of its kind on your shelf",
    rows: ranked.map((standIn, at) => ({
      number: at + 1,
      mark: MARKS[standIn.verdict],
      name: name(standIn.ingredient),
      words: sayStandIn(standIn, name, (family) => family.replaceAll("-", " ")),
    })),
  };
}
