/**
 * What could stand in for an ingredient that ran out, base by base.
 */
import { nameOf } from "../products/desk.ts";
import type { OpenProduct } from "../products/open-product.ts";
import { standInWords } from "../products/stand-ins.ts";
import { productHref } from "./maker-product.ts";

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
  const { product } = stored.document;
  const base = product.bases.find(({ id }) => id === baseId)!;
  const href = `${productHref(product.id)}/bases/${encodeURIComponent(base.id)}`;
  return { name: base.name, href, ...standInWords(product, base, missing, { desk, shipDay }) };
}
