/**
 * A product being written. Its shape is that of a product with everything allowed to be empty still: what is missing
 * is told by `readiness.ts`, one thing after another, and asked for again at publishing.
 */
import { WHOLE } from "#core/blend.ts";
import type { Base, Product } from "#core/compose/product.ts";
import type { PricePolicy } from "#core/price/policy.ts";
import * as z from "zod";
import { LabelFactsShape } from "../documents/label-settings.ts";
import { PARCEL_MARGIN_GREATEST_C, PricePolicyShape, RulesShape } from "../shapes.ts";

/** The sheets of a product, in the order a maker fills them in. */
export const SHEETS = [
  "words",
  "oils",
  "bases",
  "additives",
  "jars",
  "rules",
  "price",
  "label",
  "room",
] as const;
export type Sheet = (typeof SHEETS)[number];

export interface ProductDraft {
  readonly product: Product;
  readonly pricePolicy: PricePolicy;
  /** Sheets the maker has saved at least once; a sheet may be right as it stands and still not be looked at. */
  readonly stage?: readonly Sheet[];
  /** Began as our own example, and nobody has given it words of its own yet. */
  readonly example?: true;
  /** Bases taken out of the product that can be put back, the last first. */
  readonly aside?: readonly Base[];
}

/** More bases set aside than this and the oldest is gone for good. */
export const ASIDE_MOST = 10;

const id = z.string().min(1).max(64);
const share = z.int().min(0).max(WHOLE);
const bound = { share, least: share, greatest: share };

const DraftBaseShape = z.strictObject({
  id,
  name: z.string(),
  words: z.string(),
  butters: z.array(z.strictObject({ ingredient: id, ...bound })),
  oils: z.array(z.strictObject({ place: id, ingredient: id, ...bound })),
});

const DraftProductShape: z.ZodType<Product> = z.strictObject({
  id,
  name: z.string(),
  words: z.string(),
  places: z.array(z.strictObject({ id, name: z.string(), allowed: z.array(id) })),
  bases: z.array(DraftBaseShape),
  additives: z.array(z.strictObject({ ingredient: id, share })),
  jars: z.array(z.strictObject({ id, name: z.string(), fillG: z.int().positive() })),
  quantityMost: z.int().positive(),
  useCelsius: z.number(),
  airFraction: z.number().min(0).max(0.8),
  rules: RulesShape,
  parcelMarginCelsius: z.number().min(0).max(PARCEL_MARGIN_GREATEST_C).exactOptional(),
  label: LabelFactsShape.exactOptional(),
});

export const ProductDraftShape: z.ZodType<ProductDraft> = z.strictObject({
  product: DraftProductShape,
  pricePolicy: PricePolicyShape,
  stage: z.array(z.enum(SHEETS)).exactOptional(),
  example: z.literal(true).exactOptional(),
  aside: z.array(DraftBaseShape).exactOptional(),
});

/** The draft with a sheet marked as looked at. */
export function withSheet(draft: ProductDraft, sheet: Sheet): ProductDraft {
  const stage = draft.stage ?? [];
  return stage.includes(sheet) ? draft : { ...draft, stage: [...stage, sheet] };
}
