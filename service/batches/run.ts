/**
 * One run of a batch: a blend's work order, split into loads when the vessel is too small for it.
 */
import type { Blend } from "#core/blend.ts";
import type { Finding } from "#core/finding.ts";
import { sayFinding } from "#core/finding.ts";
import { splitLoads } from "#core/make/loads.ts";
import { type WorkOrderInput, makeWorkOrder } from "#core/make/work-order.ts";
import type { QuoteSnapshot } from "#core/wire.ts";
import type { IngredientOf } from "../actions/pantry.ts";
import { productOfVersion } from "../actions/offer.ts";
import type { Shop } from "../ports.ts";
import { Refusal } from "../problem.ts";
import { PricePolicyShape } from "../shapes.ts";
import type { Bench } from "./bench-day.ts";
import type { BlendGroup } from "./groups.ts";
import { type BatchRun, linesOf } from "./sheets.ts";

/**
 * Write the sheet of a run of orders.
 * @throws Refusal make.batch.refused when the blend cannot be judged, weighed or split
 */
export async function runOfOrders(
  shop: Shop,
  bench: Bench,
  ingredientOf: IngredientOf,
  batchNumber: string,
  { quote, orders }: BlendGroup,
): Promise<BatchRun> {
  const { id, version, name } = quote.product;
  const [product, row, { law }] = await Promise.all([
    productOfVersion(shop, id, version),
    shop.shops.version(id, version),
    shop.kitchenLaws.inForce(bench.shopId),
  ]);
  if (!product || !row) throw new Error(`version ${version} of ${id} is missing`);
  const { lossShare } = PricePolicyShape.parse(JSON.parse(row.pricePolicy));
  const run = writeRun(bench, {
    batchNumber,
    productName: name,
    baseName: quote.base.name,
    blend: blendOf(quote, ingredientOf),
    orders: orders.map(({ order, quote: { jar, quantity } }) => ({
      reference: order.reference,
      jarName: jar.name,
      fillG: jar.fillG,
      quantity,
    })),
    lossShare,
    airFraction: product.airFraction,
    useCelsius: product.useCelsius,
    law,
  });
  return { ...run, product: { id, version } };
}

/**
 * Write a sheet for this bench.
 * @throws Refusal make.batch.refused
 */
export function writeRun(
  { particulars, today }: Bench,
  input: Omit<WorkOrderInput, "madeOnISO" | "makerName" | "scaleStepMg">,
): BatchRun {
  const { scaleStepMg, vesselMg } = particulars;
  const { parts } = input.blend;
  const nameOf = (id: string) =>
    parts.find(({ ingredient }) => ingredient.id === id)?.ingredient.name ?? id;
  const made = makeWorkOrder({
    ...input,
    madeOnISO: today,
    makerName: particulars.maker,
    scaleStepMg,
  });
  if ("findings" in made) throw refused(made.findings, nameOf);
  const run: BatchRun = { workOrder: made.workOrder, loads: 1 };
  if (vesselMg === undefined) return run;
  const targets = linesOf(run).map(({ ingredient, targetMg }) => ({
    ingredientId: ingredient,
    targetMg,
  }));
  const split = splitLoads(targets, vesselMg, scaleStepMg);
  if ("findings" in split) throw refused(split.findings, nameOf);
  const { loads } = split;
  if (loads.length === 1) return run;
  return {
    ...run,
    loads: loads.length,
    loadTargetsMg: loads.map(({ targetsMg }) => targetsMg),
  };
}

/** The blend of a quote, of the ingredients as the maker has them now. */
export function blendOf({ parts }: QuoteSnapshot, ingredientOf: IngredientOf): Blend {
  return {
    parts: parts.map(({ ingredient: id, share }) => {
      const ingredient = ingredientOf(id);
      if (!ingredient) throw new Error(`nobody knows the ingredient ${id}`);
      return { ingredient, share };
    }),
  };
}

function refused(findings: readonly Finding[], nameOf: (id: string) => string): Refusal {
  const because = findings.map((each) => sayFinding(each, nameOf)).join(" ");
  return new Refusal(
    "make.batch.refused",
    `No work order can be written yet. ${because} Nothing was changed.`,
    { findings },
  );
}
