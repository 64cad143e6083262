/**
 * The page of a base: its rows, their sum, and what the blend comes to.
 */
import { WHOLE } from "#core/blend.ts";
import type { Base } from "#core/compose/product.ts";
import { type Judgement, USUAL_ROOM_C } from "#core/judge/verdict.ts";
import { TRIAL_RANGE, TRIAL_USUAL_G } from "../../batches/trial.ts";
import { type Desk, nameOf } from "../desk.ts";
import type { ProductDraft } from "../draft-shape.ts";
import { numberOf } from "../../typed/figure.ts";
import { capital } from "../../words/capital.ts";
import { percentWords } from "../fields.ts";
import { judgeBase, saying } from "../judge-base.ts";
import { sumOf } from "../readiness.ts";
import { sumWords } from "../sum-words.ts";
import type { TypedBase, TypedRow } from "./base-sheet.ts";
import { choicesOf } from "./choices.ts";

interface Written {
  readonly typed: TypedBase;
  readonly baseId: string;
  readonly base: Base;
  readonly isWhole: boolean;
}

/** Model of the page. */
export function baseModel(
  { typed, baseId, base, isWhole }: Written,
  draft: ProductDraft,
  desk: Desk,
  shipDay: string,
) {
  const { places, additives } = draft.product;
  return {
    baseId,
    isThere: draft.product.bases.some(({ id }) => id === baseId),
    name: typed.name,
    words: typed.words,
    butters: typed.butters.map((row, at) => ({
      ...rowModel(row, `butter-${at}`),
      number: at + 1,
      ofName: `ingredient ${at + 1}`,
      groups: choicesOf(desk, ["butter", "wax", "oil"], row.ingredient),
    })),
    oils: typed.oils.map(({ place: id, ...row }, at) => {
      const place = places.find((each) => each.id === id);
      return {
        ...rowModel(row, `oil-${at}`),
        place: id,
        placeName: place?.name ?? id,
        options: [
          ...new Set([...(place?.allowed ?? []), ...(row.ingredient ? [row.ingredient] : [])]),
        ].map((oil) => ({ id: oil, name: nameOf(desk, oil), chosen: oil === row.ingredient })),
      };
    }),
    additives: additives.map(({ ingredient, share }) => ({
      name: nameOf(desk, ingredient),
      share: percentWords(share),
    })),
    additivesShare: additives.reduce((sum, { share }) => sum + share, 0) / 100,
    trialG: TRIAL_USUAL_G,
    trialRange: TRIAL_RANGE,
    facts: factsOf(isWhole ? base : undefined, typed, draft, desk, shipDay),
  };
}

function rowModel(row: TypedRow, field: string) {
  const { share, least, greatest } = row;
  return { field, share, least, greatest };
}

/** What the blend comes to, in words. */
export function factsOf(
  base: Base | undefined,
  typed: TypedBase,
  { product }: ProductDraft,
  desk: Desk,
  shipDay: string,
) {
  const nothing = { verdict: "", mark: "", rows: [], sentences: [] as readonly string[] };
  if (!base) return { sum: sumWords(typedSum(typed, product.additives)), ...nothing };
  const sum = sumOf(product, base);
  if (sum !== WHOLE) return { sum: sumWords(sum), ...nothing };
  const judged = judgeBase(product, base, desk, shipDay);
  if ("sentences" in judged) return { ...nothing, sum: sumWords(sum), sentences: judged.sentences };
  const { judgement } = judged;
  return {
    sum: sumWords(sum),
    ...VERDICTS[judgement.verdict],
    rows: factRows(judgement, desk),
    sentences: saying(judgement.findings, desk),
  };
}

const VERDICTS = {
  orderable: { verdict: "Orderable as it stands", mark: "●" },
  refused: { verdict: "Refused by your rules", mark: "✕" },
  "cannot-judge": { verdict: "Cannot be judged", mark: "?" },
} as const;

function factRows(judgement: Judgement, desk: Desk) {
  const { firmness, softensAboveCelsius, softensAboveLeastCelsius, poreRating } = judgement;
  const rows: { what: string; figure: string }[] = [];
  if (firmness) {
    const { settled, lowest, highest, celsius = USUAL_ROOM_C } = firmness;
    const band = lowest === highest ? "" : ` (${lowest} to ${highest})`;
    rows.push({ what: `Settled, at ${celsius} °C`, figure: `${settled}${band}` });
  }
  for (const { name, settled, celsius } of judgement.places ?? []) {
    if (name !== "in use") rows.push({ what: `${capital(name)}, ${celsius} °C`, figure: settled });
  }
  if (softensAboveCelsius !== undefined) {
    const worst =
      softensAboveLeastCelsius === undefined
        ? ""
        : `, at worst ${softensAboveLeastCelsius.toFixed(1)} °C`;
    rows.push({ what: "Softens above", figure: `${softensAboveCelsius.toFixed(1)} °C${worst}` });
  }
  const { highest, unrated } = poreRating;
  const from = highest
    ? `${highest.value}, from ${nameOf(desk, highest.ingredient)}`
    : "none rated";
  rows.push({ what: "Pore rating", figure: from });
  if (unrated.length > 0) {
    rows.push({ what: "Unrated", figure: unrated.map((id) => nameOf(desk, id)).join(", ") });
  }
  return rows;
}

/** Sum of what can be read, so that the line under the rows says something while they are not whole. */
function typedSum(
  { butters, oils }: TypedBase,
  additives: readonly { readonly share: number }[],
): number {
  const typed = [...butters, ...oils].map(({ share }) => numberOf(share) * 100);
  const known = typed.filter(Number.isFinite).reduce((sum, share) => sum + share, 0);
  return Math.round(known) + additives.reduce((sum, { share }) => sum + share, 0);
}
