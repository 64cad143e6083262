/**
 * Trial batches: 50 to 200 g of a blend that is still a draft, weighed and recorded like any other, for nobody but the
 * maker. What comes out is felt as a test jar, and the kitchen learns from it.
 */
import { composeBlend } from "#core/compose/compose.ts";
import { type Choice, type Product, ingredientsOf } from "#core/compose/product.ts";
import { sayFinding } from "#core/finding.ts";
import { pantryOf } from "../actions/pantry.ts";
import type { Shop } from "../ports.ts";
import { Refusal } from "../problem.ts";
import { Conflict } from "../storage/database.ts";
import type { ShopRow } from "../storage/shops.ts";
import { nextNumber, openBench } from "./bench-day.ts";
import { issueRecorded } from "./record-issue.ts";
import { writeRun } from "./run.ts";
import type { BatchSheets } from "./sheets.ts";

/** Less does not whip in a bowl, more is no trial; both common practice, no source. */
const TRIAL_LEAST_G = 50;
const TRIAL_GREATEST_G = 200;
export const TRIAL_RANGE = `${TRIAL_LEAST_G} to ${TRIAL_GREATEST_G}\u00a0g`;
/** A bowl's worth, to begin with; own choice [g] */
export const TRIAL_USUAL_G = 100;

interface TrialRequest {
  /** A draft; its rules may refuse the blend, which is what a trial is for, but its bounds hold. */
  readonly product: Product;
  readonly choice: Choice;
  /** Whole grams, 50 to 200. */
  readonly massG: number;
  readonly personId: string | null;
}

/**
 * Issue the work order of a trial.
 * @returns the number of its batch
 * @throws Refusal make.batch.refused for a mass out of range, a choice that makes no blend, or a blend that cannot be
 *   judged or weighed
 */
export async function issueTrial(
  shop: Shop,
  owner: ShopRow,
  request: TrialRequest,
): Promise<string> {
  const { product, choice, massG, personId } = request;
  if (!Number.isInteger(massG) || massG < TRIAL_LEAST_G || massG > TRIAL_GREATEST_G) {
    throw new Refusal("make.batch.refused", `A trial takes ${TRIAL_RANGE}, in whole grams.`);
  }
  const bench = openBench(shop, owner);
  const { shopId } = bench;
  const chosen = [...choice.butters, ...choice.oils].map(({ ingredient }) => ingredient);
  const named = [...ingredientsOf(product), ...chosen];
  const { ingredientOf } = await pantryOf(shop, shopId, named);
  const composed = composeBlend(product, choice, ingredientOf);
  if ("findings" in composed) {
    const { findings } = composed;
    const nameOf = (id: string) => ingredientOf(id)?.name ?? id;
    const because = findings.map((each) => sayFinding(each, nameOf)).join(" ");
    throw new Refusal("make.batch.refused", `This makes no blend yet. ${because}`, { findings });
  }
  const { law } = await shop.kitchenLaws.inForce(shopId);
  const number = await nextNumber(shop, bench);
  const base = product.bases.find(({ id }) => id === choice.base);
  const run = writeRun(bench, {
    ...{ batchNumber: number, productName: `Trial of ${product.name}` },
    baseName: base?.name ?? choice.base,
    blend: composed.blend,
    orders: [{ reference: "Trial", jarName: "Test jar", fillG: massG, quantity: 1 }],
    lossShare: 0,
    airFraction: product.airFraction,
    useCelsius: product.useCelsius,
    law,
  });
  const batch = {
    ...{ id: shop.numbers.id(), shopId, number, personId },
    ...{ state: "open" as const, kind: "trial" as const, issuedAt: bench.now },
    workOrder: JSON.stringify({
      runs: [{ ...run, product: { id: product.id } }],
    } satisfies BatchSheets),
  };
  try {
    await issueRecorded(shop, batch, []);
  } catch (error) {
    const isTaken = error instanceof Conflict && (await shop.batches.byNumber(shopId, number));
    if (!isTaken) throw error;
    return issueTrial(shop, owner, request);
  }
  return number;
}
