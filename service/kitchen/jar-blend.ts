/**
 * What a test jar is made of: one of the shop's bases, or parts the maker writes down.
 */
import { type Blend, type Part, makeBlend, shareFromPercent } from "#core/blend.ts";
import type { Product } from "#core/compose/product.ts";
import { sayFinding } from "#core/finding.ts";
import { ingredientById } from "#data/library.ts";
import { numberOf } from "../typed/figure.ts";
import type { JarFields } from "./jar-fields.ts";
import type { Faults } from "./jar-form.ts";
import { blendOfBase } from "./kitchen.ts";

export type JarBlend =
  { readonly blend: Blend; readonly title: string } | { readonly faults: Faults };

/** Value of a base in the form's list. */
export function baseKey(productId: string, baseId: string): string {
  return `${productId}/${baseId}`;
}

/** Read which blend is in the jar. */
export function readBlend({ base, parts }: JarFields, products: readonly Product[]): JarBlend {
  const written = parts.filter(({ ingredient, percent }) => ingredient !== "" || percent !== "");
  if (base === "" && written.length === 0) {
    return { faults: ["Say what is in the jar: choose a base, or write down its parts."] };
  }
  if (base !== "" && written.length > 0) {
    return { faults: ["Choose a base or write down parts, not both: clear one of them."] };
  }
  return base === "" ? readParts(written) : readBase(base, products);
}

function readBase(key: string, products: readonly Product[]): JarBlend {
  for (const product of products) {
    for (const base of product.bases) {
      const blend = baseKey(product.id, base.id) === key && blendOfBase(product, base);
      if (blend) return { blend, title: `${product.name}, ${base.name}` };
    }
  }
  return { faults: ["That base is no longer for sale: choose another, or write down its parts."] };
}

function readParts(written: JarFields["parts"]): JarBlend {
  const faults: string[] = [];
  const parts: Part[] = [];
  for (const { ingredient: id, percent } of written) {
    const ingredient = ingredientById(id);
    const share = shareFromPercent(numberOf(percent));
    const name = ingredient?.name ?? id;
    if (!ingredient) {
      const said = id === "" ? `Choose the ingredient for ${percent} %.` : `There is no “${id}”.`;
      faults.push(said.slice(0, 120));
    } else if (share === undefined) {
      faults.push(`Write the share of ${name} as a percentage from 0 to 100, to 0.01 at most.`);
    } else {
      parts.push({ ingredient, share });
    }
  }
  if (faults.length > 0) return { faults };
  const made = makeBlend(parts);
  if ("findings" in made) return { faults: made.findings.map((found) => sayFinding(found)) };
  return { blend: made.blend, title: titleOf(made.blend) };
}

/** The three largest parts, which is how makers speak of a blend. */
function titleOf({ parts }: Blend): string {
  const sorted = [...parts].sort((one, other) => other.share - one.share);
  const said = sorted
    .slice(0, 3)
    .map(({ ingredient, share }) => `${ingredient.name} ${share / 100}`);
  return said.join(", ") + (sorted.length > 3 ? ", …" : "");
}
