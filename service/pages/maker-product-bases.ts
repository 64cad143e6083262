/**
 * The bases of a product with their verdicts.
 */
import type { Base } from "#core/compose/product.ts";
import { type Desk, nameOf } from "../products/desk.ts";
import { percentWords } from "../products/fields.ts";
import { judgeBase } from "../products/judge-base.ts";
import type { OpenProduct } from "../products/open-product.ts";
import { productHref } from "./maker-product.ts";

const VERDICTS = {
  orderable: { mark: "●", verdict: "orderable" },
  refused: { mark: "✕", verdict: "refused by your rules" },
  "cannot-judge": { mark: "?", verdict: "cannot be judged" },
} as const;

/** Model of the list. */
export function basesPage({ stored, desk, shipDay }: OpenProduct) {
  const { product, aside = [] } = stored.document;
  return {
    bases: product.bases.map((base) => {
      const judged = judgeBase(product, base, desk, shipDay);
      const judgement = "judgement" in judged ? judged.judgement : undefined;
      const softens = judgement?.softensAboveCelsius;
      return {
        href: `${productHref(product.id)}/bases/${encodeURIComponent(base.id)}`,
        name: base.name,
        parts: partsOf(base, desk),
        ...(judgement ? VERDICTS[judgement.verdict] : { mark: "▲", verdict: "no blend yet" }),
        use: judgement?.firmness?.settled ?? "not known",
        softens: softens === undefined ? "not known" : `${softens.toFixed(1)} °C`,
      };
    }),
    aside: aside.map((base) => ({ id: base.id, name: base.name, parts: partsOf(base, desk) })),
  };
}

function partsOf({ butters, oils }: Base, desk: Desk): string {
  return [...butters, ...oils]
    .map(({ ingredient, share }) => `${percentWords(share)} ${nameOf(desk, ingredient)}`)
    .join(", ");
}
