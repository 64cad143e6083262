/**
 * What keeps a search from being started at all: a base nobody knows, shares that are none, figures that are missing.
 */
import { type Part, WHOLE } from "../../blend.ts";
import { type Base, type Choice, type Product, allowedAt } from "../../compose/product.ts";
import { type Finding, finding } from "../../finding.ts";
import type { Ingredient } from "../../ingredient.ts";
import { compositionFindings } from "../../judge/composition.ts";
import { dermalFindings, untoldFindings } from "../../judge/dermal.ts";
import { judgeBlend } from "../../judge/verdict.ts";
import type { JudgingGround } from "../rule-check.ts";

const QUESTION_CODES: ReadonlySet<string> = new Set([
  "judge.temperature.out-of-range",
  "judge.air.out-of-range",
]);

/** Findings without whose mending no blend of this base can be called orderable; none when the search may begin. */
export function standingFindings(
  product: Product,
  choice: Choice,
  ingredientOf: (id: string) => Ingredient | undefined,
  question: JudgingGround,
): Finding[] {
  const base = product.bases.find(({ id }) => id === choice.base);
  if (!base) return [finding("compose.base.unknown", choice.base)];
  return [
    ...[...choice.butters, ...choice.oils]
      .filter(({ share }) => !Number.isInteger(share) || share < 0 || share > WHOLE)
      .map(({ ingredient, share: measured }) =>
        finding("compose.share.not-a-share", ingredient, { measured }),
      ),
    ...neededBy(product, base).flatMap((need) => missingIn(need, ingredientOf)),
    ...dermalFindings({ parts: alwaysIn(product, base, ingredientOf) }),
    ...questionFindings(base, ingredientOf, question),
  ];
}

/** One of these must be known; where some of it must be in the blend, by its composition as well. */
interface Need {
  readonly ids: readonly string[];
  readonly least: number;
}

function neededBy(product: Product, { butters, oils }: Base): Need[] {
  return [
    ...butters.map(({ ingredient, least }) => ({ ids: [ingredient], least })),
    ...product.additives.map(({ ingredient, share: least }) => ({ ids: [ingredient], least })),
    ...oils.map(({ place, least }) => ({ ids: allowedAt(product, place), least })),
  ];
}

function missingIn(
  { ids, least }: Need,
  ingredientOf: (id: string) => Ingredient | undefined,
): readonly Finding[] {
  const findings = ids.map((id) => {
    const ingredient = ingredientOf(id);
    if (!ingredient) return [finding("compose.ingredient.unknown", id)];
    return least > 0 ? [...compositionFindings(ingredient), ...untoldFindings(ingredient)] : [];
  });
  return findings.some((each) => each.length === 0) ? [] : findings.flat();
}

/** The least of what no choice can leave out: where that is already too much for skin, no blend can pass. */
function alwaysIn(
  { additives }: Product,
  { butters }: Base,
  ingredientOf: (id: string) => Ingredient | undefined,
): Part[] {
  const always = [
    ...butters.map(({ ingredient, least: share }) => ({ ingredient, share })),
    ...additives,
  ];
  return always.flatMap(({ ingredient: id, share }) => {
    const ingredient = ingredientOf(id);
    return ingredient ? [{ ingredient, share }] : [];
  });
}

/** A temperature or an air fraction that cannot be judged, whatever the blend. */
function questionFindings(
  base: Base,
  ingredientOf: (id: string) => Ingredient | undefined,
  question: JudgingGround,
): Finding[] {
  const known = [...base.butters, ...base.oils].flatMap(
    (each) => ingredientOf(each.ingredient) ?? [],
  );
  return known.slice(0, 1).flatMap((ingredient) => {
    const blend = { parts: [{ ingredient, share: WHOLE }] };
    const { findings } = judgeBlend(blend, { ...question, rules: {}, celsius: [] });
    return findings.filter(({ code }) => QUESTION_CODES.has(code));
  });
}
