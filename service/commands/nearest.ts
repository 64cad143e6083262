/**
 * `softset nearest FILE`: the same input as `softset judge`, each part with bounds if it has any; out comes the nearest
 * blend that passes the rules, or what stands in its way.
 */
import { WHOLE, shareFromPercent } from "#core/blend.ts";
import type { Choice, Product } from "#core/compose/product.ts";
import { sayFinding } from "#core/finding.ts";
import type { Ingredient } from "#core/ingredient.ts";
import { USUAL_AIR_FRACTION } from "#core/judge/firmness.ts";
import type { Conflict } from "#core/order/nearest/conflicts.ts";
import { type Nearest, nearestOrderable } from "#core/order/nearest/nearest.ts";
import { SEVERAL_MUST_GIVE, sayChanges, sayConflict } from "#core/order/nearest-words.ts";
import * as z from "zod";
import { Refusal } from "../problem.ts";
import { pointersOf } from "../typed/pointers.ts";
import {
  type BlendFile,
  blendOf,
  nameOfIngredient,
  readJson,
  withCertificates,
} from "./blend-file.ts";
import { jsonText } from "./json-text.ts";

const Share = z
  .number()
  .transform((percent) => shareFromPercent(percent))
  .refine((share) => share !== undefined, "Say a percentage from 0 to 100, in steps of 0.01.");

/** What only this command reads of a part. */
const BoundShape = z
  .object({ least: Share.optional(), greatest: Share.optional(), fixed: z.boolean().optional() })
  .refine(
    ({ least, greatest, fixed }) => !fixed || (least === undefined && greatest === undefined),
    "Say fixed, or least and greatest, not both.",
  )
  .refine(
    ({ least = 0, greatest = WHOLE }) => least <= greatest,
    "Least must not be above greatest.",
  );

const PartsShape = z.object({ parts: z.array(BoundShape).min(1) });

type Bounds = z.infer<typeof BoundShape>;

/**
 * Find the nearest passing blend of the one in a file.
 * @param rest one file name, or "-" for standard input
 * @returns the answer as JSON text
 * @throws Refusal when the file cannot be read or does not describe a blend with bounds
 */
export async function nearestCommand(rest: readonly string[]): Promise<string> {
  const json = readJson("nearest", rest);
  const parsed = PartsShape.safeParse(json);
  const file = blendOf(withoutBounds(json));
  if (!parsed.success) {
    const errors = pointersOf(parsed.error);
    throw new Refusal("request.body.invalid", "A bound cannot be used.", { errors });
  }
  return jsonText(answer(file, parsed.data.parts));
}

/** The input as `softset judge` knows it. */
function withoutBounds(json: unknown): unknown {
  if (typeof json !== "object" || json === null || !("parts" in json)) return json;
  if (!Array.isArray(json.parts)) return json;
  const parts = json.parts.map((part: unknown) => {
    if (typeof part !== "object" || part === null) return part;
    const { least: _least, greatest: _greatest, fixed: _fixed, ...others } = part as Bounds;
    return others;
  });
  return { ...json, parts };
}

function answer(file: BlendFile, bounds: readonly Bounds[]) {
  const ingredients = new Map(file.parts.map(({ ingredient }) => [ingredient.id, ingredient]));
  const { product, choice } = questionOf(file, bounds);
  const nearest = nearestOrderable(product, choice, { ingredientOf: (id) => ingredients.get(id) });
  return report(nearest, file, ingredients);
}

/** A product with one base and no places: every part is a butter with a bound. */
function questionOf({ input, parts }: BlendFile, bounds: readonly Bounds[]) {
  const butters = new Map<string, { share: number; least: number; greatest: number }>();
  for (const [at, { ingredient, share }] of parts.entries()) {
    const { least = 0, greatest = WHOLE, fixed = false } = bounds[at]!;
    const before = butters.get(ingredient.id) ?? { share: 0, least: 0, greatest: 0 };
    butters.set(ingredient.id, {
      share: before.share + share,
      least: before.least + (fixed ? share : least),
      greatest: Math.min(WHOLE, before.greatest + (fixed ? share : greatest)),
    });
  }
  const base = {
    ...{ id: "blend", name: "Blend", words: "", oils: [] },
    butters: [...butters].map(([ingredient, bound]) => ({ ingredient, ...bound })),
  };
  const product: Product = {
    ...{ id: "blend", name: "Blend", words: "", places: [], additives: [], jars: [] },
    ...{ bases: [base], quantityMost: 1, useCelsius: input.use.celsius },
    airFraction: input.airFraction ?? USUAL_AIR_FRACTION,
    rules: input.rules ?? {},
  };
  const choice: Choice = {
    base: "blend",
    butters: base.butters.map(({ ingredient, share }) => ({ ingredient, share })),
    oils: [],
  };
  return { product, choice };
}

function report(
  nearest: Nearest,
  { certificates }: BlendFile,
  ingredients: ReadonlyMap<string, Ingredient>,
) {
  const nothing = { parts: null, movedPercent: null, changes: [], conflicts: [], findings: [] };
  const nameOf = (id: string) => ingredients.get(id)?.name ?? nameOfIngredient(id);
  switch (nearest.kind) {
    case "found":
      return {
        kind: nearest.kind,
        ...nothing,
        parts: nearest.choice.butters.map(({ ingredient, share }) => ({
          ingredient,
          percent: share / 100,
        })),
        movedPercent: nearest.moved / 100,
        changes: nearest.changes.map(({ ingredient, from, to }) => ({
          ...{ ingredient, fromPercent: from / 100, toPercent: to / 100 },
        })),
        sentence: sayChanges(nearest.changes, nameOf),
      };
    case "none": {
      const conflicts = nearest.conflicts().map((each) => inPercent(each, nameOf));
      const sentence = conflicts.length > 0 ? "" : SEVERAL_MUST_GIVE;
      return { kind: nearest.kind, ...nothing, conflicts, sentence };
    }
    case "cannot-judge": {
      const findings = withCertificates(nearest.findings, certificates).map((found) => ({
        ...found,
        sentence: sayFinding(found, nameOf),
      }));
      return { kind: nearest.kind, ...nothing, findings, sentence: "" };
    }
  }
}

function inPercent(conflict: Conflict, nameOf: (id: string) => string) {
  const { gives, stands, needed } = conflict;
  const isBound = gives === "least" || gives === "greatest";
  const figure = (value: number | string) => (isBound ? Number(value) / 100 : value);
  const sentence = sayConflict(conflict, nameOf);
  return { ...conflict, stands: figure(stands), needed: figure(needed), sentence };
}
