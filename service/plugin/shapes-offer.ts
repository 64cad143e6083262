/**
 * What is for sale, as schemas: what the API's description promises of the answers.
 */
import type { ProductOffer } from "#core/wire.ts";
import * as z from "zod";
import { FirmnessLawShape, SoldProductShape, WithdrawalShape } from "../shapes.ts";

const Minor = z.int().describe("[minor units]");
const Share = z.int().describe("[hundredths of a percent]");
const Celsius = z.number().describe("[°C]");
const Percents = z.record(z.string(), z.number()).describe("[percent by mass]");

const CompositionShape = z.discriminatedUnion("kind", [
  z.object({
    kind: z.literal("fatty-acids"),
    percent: Percents,
    family: z.enum(["seed", "palm", "lauric"]).exactOptional(),
    sn2: z.record(z.string(), z.number()).describe("[mole percent]").exactOptional(),
    unsaponifiablePercent: z.number().exactOptional(),
  }),
  z.object({
    kind: z.literal("triacylglycerols"),
    percent: Percents,
    unsaponifiablePercent: z.number().exactOptional(),
  }),
  z.object({ kind: z.literal("inert-liquid"), molarMass: z.number() }),
  z.object({
    kind: z.literal("wax"),
    molarMass: z.number().describe("[g/mol]"),
    meltingCelsius: Celsius,
    fusionKJPerMol: z.number(),
    structure: z.number(),
  }),
  z.object({ kind: z.literal("undissolved") }),
  z.object({ kind: z.literal("unknown") }),
]);

const PoreRatingShape = z.discriminatedUnion("rated", [
  z.object({
    rated: z.literal(true),
    value: z.number().describe("Published comedogenic grade, 0 to 5."),
    low: z.number(),
    high: z.number(),
    evidence: z.enum(["assay-read", "assay-copied", "trade-pages", "recalled"]).exactOptional(),
    confidence: z.enum(["A", "B", "C", "D", "E"]).exactOptional(),
  }),
  z.object({ rated: z.literal(false) }),
]);

const PerMillion = z.number().describe("[millionths by mass]");

const IngredientShape = z.object({
  id: z.string(),
  name: z.string(),
  inci: z.string().describe("Label name (INCI)."),
  kind: z.enum(["butter", "oil", "wax", "powder", "additive"]),
  composition: CompositionShape,
  poreRating: PoreRatingShape,
  allergenFamilies: z.array(z.string()).describe("Empty when none is known."),
  scented: z.boolean().exactOptional(),
  measured: z
    .object({
      iodineValue: z.number().describe("[g iodine per 100 g]").exactOptional(),
      saponificationValue: z.number().describe("[mg KOH per g]").exactOptional(),
      viscosityMm2PerS: z.number().describe("At 32 °C [mm²/s]").exactOptional(),
    })
    .exactOptional(),
  solidFatCurve: z
    .array(z.object({ celsius: Celsius, percent: z.number() }))
    .describe("Settled solid fat of this lot as measured [% by mass]")
    .exactOptional(),
  compositionSpread: z.number().exactOptional(),
  setsBelowC: Celsius.exactOptional(),
  addBelowC: Celsius.exactOptional(),
  aromatic: z
    .object({
      holds: z
        .array(
          z.object({
            name: z.string(),
            low: PerMillion,
            high: PerMillion,
            isListed: z.boolean(),
            most: PerMillion.exactOptional(),
          }),
        )
        .exactOptional(),
      listedAs: z.string().exactOptional(),
      sunMostShare: Share.exactOptional(),
      isMostUntold: z.literal(true).exactOptional(),
    })
    .exactOptional(),
  mostShare: Share.exactOptional(),
  ranOut: z.literal(true).exactOptional().describe("None is left for the time being."),
});

const CurrencyShape = z.object({
  code: z.string().describe("ISO 4217."),
  exponent: z.int().describe("Decimals of the minor unit."),
});

const ParcelShape = z.object({
  zone: z.object({ id: z.string(), name: z.string() }),
  shipDay: z.string().describe("ISO day the parcel leaves."),
  celsius: Celsius,
  leastCelsius: Celsius,
});

export const ProductListShape = z.object({
  products: z.array(
    z.object({ id: z.string(), name: z.string(), words: z.string(), version: z.int() }),
  ),
});

export const OfferShape = z.object({
  product: SoldProductShape,
  version: z.int().describe("Published version; a quote names it."),
  ingredients: z.array(IngredientShape),
  tariffs: z
    .record(
      z.string(),
      z.object({
        fixedNano: z.number().describe("[billionths of a minor unit]"),
        rateNano: z
          .record(z.string(), z.number())
          .describe("Per hundredth of a percent of an ingredient [billionths of a minor unit]"),
        roundUpToMinor: Minor,
        leastMinor: Minor.exactOptional(),
        mostMinor: Minor.exactOptional(),
      }),
    )
    .describe("By jar id."),
  currency: CurrencyShape,
  taxOnTop: z.object({ share: Share, stepMinor: Minor }).exactOptional(),
  locale: z.string().describe("BCP 47."),
  practice: z.boolean().describe("Payment is only practised: no money moves."),
  law: FirmnessLawShape.exactOptional(),
  parcel: ParcelShape.exactOptional(),
  withdrawal: WithdrawalShape.exactOptional(),
}) satisfies z.ZodType<ProductOffer>;
