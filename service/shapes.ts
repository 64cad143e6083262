/**
 * The shapes that come in from outside, as zod schemas: requests, and documents read back from storage.
 */
import type { Product } from "#core/compose/product.ts";
import { FIRMNESS_CLASSES, type FirmnessLaw } from "#core/judge/firmness.ts";
import type { PricePolicy } from "#core/price/policy.ts";
import { PARTS_GREATEST, WHOLE } from "#core/blend.ts";
import * as z from "zod";

const Id = z.string().min(1).max(64);
/** A share is checked for its range by the core, which names the ingredient; here only for being a number at all. */
const Share = z.number();

export const ChoiceShape = z.strictObject({
  base: Id,
  butters: z.array(z.strictObject({ ingredient: Id, share: Share })).max(PARTS_GREATEST),
  oils: z.array(z.strictObject({ place: Id, ingredient: Id, share: Share })).max(PARTS_GREATEST),
});

export const VerdictRequestShape = z.strictObject({
  product: Id,
  choice: ChoiceShape,
  explain: z.boolean().exactOptional(),
});

export const QuoteRequestShape = z.strictObject({
  product: Id,
  choice: ChoiceShape,
  jar: Id,
  quantity: z.number(),
});

/** Compact JWS: three base64url parts. */
export const OrderRequestShape = z.strictObject({ quote: z.string().min(1).max(16_384) });

const bound = { least: z.int().min(0), greatest: z.int().max(10_000) };
const share = z.int().min(0).max(10_000);

export const RulesShape = z.strictObject({
  firmness: z.array(z.enum(FIRMNESS_CLASSES)).min(1).exactOptional(),
  softensAboveLeastCelsius: z.number().exactOptional(),
  poreRatingMost: z.number().min(0).max(5).exactOptional(),
  poreReading: z.enum(["value", "high"]).exactOptional(),
  poreTraceBelowShare: z.int().min(0).max(WHOLE).exactOptional(),
  poreConfidenceLeast: z.enum(["A", "B", "C", "D", "E"]).exactOptional(),
  unrated: z.enum(["cannot-judge", "tell"]).exactOptional(),
  strictness: z.enum(["whole-band", "central"]).exactOptional(),
});

export const ProductShape: z.ZodType<Product> = z.strictObject({
  id: Id,
  name: z.string().min(1),
  words: z.string(),
  places: z.array(z.strictObject({ id: Id, name: z.string(), allowed: z.array(Id).min(1) })),
  bases: z
    .array(
      z.strictObject({
        id: Id,
        name: z.string().min(1),
        words: z.string(),
        butters: z.array(z.strictObject({ ingredient: Id, share, ...bound })),
        oils: z.array(z.strictObject({ place: Id, ingredient: Id, share, ...bound })),
      }),
    )
    .min(1),
  additives: z.array(z.strictObject({ ingredient: Id, share })),
  jars: z.array(z.strictObject({ id: Id, name: z.string(), fillG: z.int().positive() })).min(1),
  quantityMost: z.int().positive(),
  useCelsius: z.number(),
  airFraction: z.number().min(0).max(0.8),
  rules: RulesShape,
});

const minor = z.int().min(0);

export const PricePolicyShape: z.ZodType<PricePolicy> = z.strictObject({
  lossShare: z.int().min(0).max(10_000),
  jarMinor: z.record(z.string(), minor),
  labelMinor: minor,
  labourPerJarMinor: minor,
  labourPerBatchMinor: minor,
  jarsPerBatch: z.int().positive(),
  profit: z.strictObject({ kind: z.enum(["markup", "margin"]), share: z.int().min(0) }),
  taxShare: z.int().min(0).max(10_000),
  roundUpToMinor: z.int().positive(),
});

/** What a shop says of itself and its bench. */
export const ShopParticularsShape = z.strictObject({
  maker: z.string().min(1),
  /** Steps of the scale [mg] */
  scaleStepMg: z.int().positive(),
  country: z.string().length(2),
  /** Where the bench stands, IANA name: batches are numbered by its day. */
  timeZone: z.string(),
});

export type ShopParticulars = z.infer<typeof ShopParticularsShape>;

export const QuoteSnapshotShape = z.object({
  id: z.string(),
  product: z.object({ id: z.string(), name: z.string(), version: z.int() }),
  base: z.object({ id: z.string(), name: z.string() }),
  choice: ChoiceShape,
  parts: z.array(
    z.object({ ingredient: z.string(), name: z.string(), inci: z.string(), share: z.int() }),
  ),
  jar: z.object({ id: z.string(), name: z.string(), fillG: z.int() }),
  quantity: z.int().positive(),
  currency: z.object({ code: z.string(), exponent: z.int() }),
  jarMinor: minor,
  per100gMinor: minor,
  totalMinor: minor,
  taxMinor: minor,
  firmness: z.string(),
  softensAboveCelsius: z.number().nullable(),
  issuedAt: z.int(),
  expiresAt: z.int(),
});

/** A firmness law; an exponent of solids that is not above 0 would call more solids softer. */
export const FirmnessLawShape: z.ZodType<FirmnessLaw> = z.strictObject({
  scalePa: z.number().positive(),
  solidsExponent: z.number().positive(),
  airExponent: z.number().min(0),
});
