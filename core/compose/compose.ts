/**
 * A customer's choice -> a blend, if it keeps to the maker's bounds.
 */
import { type Blend, type Part, makeBlend } from "../blend.ts";
import { type Finding, finding } from "../finding.ts";
import type { Ingredient } from "../ingredient.ts";
import { type Base, type Bound, type Choice, type Product, allowedAt } from "./product.ts";

export type Composed = { readonly blend: Blend } | { readonly findings: readonly Finding[] };

/**
 * Compose a blend.
 * @param product bounds, places and additives
 * @param choice base, butters and oils with shares [hundredths of a percent]
 * @param ingredientOf looks an ingredient up by id
 * @returns the blend, or every finding against the choice
 */
export function composeBlend(
  product: Product,
  choice: Choice,
  ingredientOf: (id: string) => Ingredient | undefined,
): Composed {
  const base = product.bases.find(({ id }) => id === choice.base);
  if (!base) return { findings: [finding("compose.base.unknown", choice.base)] };
  const findings = [...butterFindings(base, choice), ...oilFindings(product, base, choice)];
  if (findings.length > 0) return { findings };
  const parts: Part[] = [];
  for (const { ingredient: id, share } of [
    ...choice.butters,
    ...choice.oils,
    ...product.additives,
  ]) {
    const ingredient = ingredientOf(id);
    if (ingredient) parts.push({ ingredient, share });
    else findings.push(finding("compose.ingredient.unknown", id));
  }
  return findings.length > 0 ? { findings } : makeBlend(parts);
}

function butterFindings(base: Base, choice: Choice): Finding[] {
  const findings: Finding[] = [];
  for (const butter of base.butters) {
    const chosen = choice.butters.filter(({ ingredient }) => ingredient === butter.ingredient);
    if (chosen.length !== 1) findings.push(finding("compose.part.missing", butter.ingredient));
    else findings.push(...boundFindings(butter.ingredient, chosen[0]!.share, butter));
  }
  const known = new Set(base.butters.map(({ ingredient }) => ingredient));
  for (const { ingredient } of choice.butters) {
    if (!known.has(ingredient)) findings.push(finding("compose.part.unexpected", ingredient));
  }
  return findings;
}

function oilFindings(product: Product, base: Base, choice: Choice): Finding[] {
  const findings: Finding[] = [];
  for (const place of base.oils) {
    const chosen = choice.oils.filter((oil) => oil.place === place.place);
    if (chosen.length !== 1) {
      findings.push(finding("compose.part.missing", place.place));
      continue;
    }
    const { ingredient, share } = chosen[0]!;
    if (!allowedAt(product, place.place).includes(ingredient)) {
      findings.push(finding("compose.oil.not-allowed", ingredient));
    }
    findings.push(...boundFindings(ingredient, share, place));
  }
  const known = new Set(base.oils.map(({ place }) => place));
  for (const { place } of choice.oils) {
    if (!known.has(place)) findings.push(finding("compose.part.unexpected", place));
  }
  return findings;
}

function boundFindings(subject: string, share: number, { least, greatest }: Bound): Finding[] {
  const measured = share / 100;
  if (!Number.isInteger(share) || share < 0) {
    return [finding("compose.share.not-a-share", subject, { measured: share })];
  }
  if (share < least) {
    const limit = least / 100;
    return [finding("compose.share.below-bound", subject, { measured, limit, unit: "%" })];
  }
  if (share > greatest) {
    const limit = greatest / 100;
    return [finding("compose.share.above-bound", subject, { measured, limit, unit: "%" })];
  }
  return [];
}
