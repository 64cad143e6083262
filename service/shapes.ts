/**
 * The shapes that come in from outside, as zod schemas: requests, and documents read back from storage.
 */
import type { Product } from "#core/compose/product.ts";
import { FIRMNESS_CLASSES, type FirmnessLaw } from "#core/judge/firmness.ts";
import type { CarriageOffers } from "#core/order/carriage.ts";
import { WITHDRAWAL_DAYS_MOST, type Withdrawal } from "#core/order/withdrawal.ts";
import type { PricePolicy } from "#core/price/policy.ts";
import { PARTS_GREATEST, WHOLE } from "#core/blend.ts";
import * as z from "zod";
import { CARRIAGE_WAYS_MOST } from "./tills/currency.ts";
import { BENCH_LANGUAGES } from "./words/bench-languages.ts";
import { LabelFactsShape, LabelSettingsShape } from "./documents/label-settings.ts";

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
  zone: Id.exactOptional(),
  explain: z.boolean().exactOptional(),
});

export const NearestRequestShape = z.strictObject({
  product: Id,
  choice: ChoiceShape,
  zone: Id.exactOptional(),
});

const WISHED_MOST = 20;

/** A wish for a price needs the jar it is meant for. */
export const WishesRequestShape = z
  .strictObject({
    product: Id,
    choice: ChoiceShape,
    zone: Id.exactOptional(),
    jar: Id.exactOptional(),
    wishes: z
      .strictObject({
        feel: z.enum(["softer", "firmer"]).exactOptional(),
        oilPhase: z.enum(["thinner", "richer"]).exactOptional(),
        holdsToCelsius: z.number().min(-10).max(60).exactOptional(),
        poreRatingMost: z.number().min(0).max(5).exactOptional(),
        without: z.array(Id).max(WISHED_MOST).exactOptional(),
        withoutFamilies: z.array(Id).max(WISHED_MOST).exactOptional(),
        unscented: z.literal(true).exactOptional(),
        priceMostMinor: z.int().min(0).exactOptional(),
      })
      .refine((wishes) => Object.keys(wishes).length > 0, "Say at least one wish."),
  })
  .refine(({ jar, wishes }) => wishes.priceMostMinor === undefined || jar !== undefined, {
    path: ["jar"],
    message: "A wish for a price needs the jar it is meant for.",
  });

export const BlendLinkRequestShape = z.strictObject({ product: Id, choice: ChoiceShape, jar: Id });

export const QuoteRequestShape = z.strictObject({
  product: Id,
  choice: ChoiceShape,
  zone: Id.exactOptional(),
  jar: Id,
  quantity: z.number(),
});

/** Compact JWS: three base64url parts. */
export const OrderRequestShape = z.strictObject({ quote: z.string().min(1).max(16_384) });

const bound = { least: z.int().min(0), greatest: z.int().max(WHOLE) };
const share = z.int().min(0).max(WHOLE);

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

/** More warmth than this above a parcel is no margin but a mistake [C] */
export const PARCEL_MARGIN_GREATEST_C = 20;

/** What customers are told of a product. */
export const SoldProductShape = z.strictObject({
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
  parcelMarginCelsius: z.number().min(0).max(PARCEL_MARGIN_GREATEST_C).exactOptional(),
});

/** A product as it is published. */
export const ProductShape: z.ZodType<Product> = SoldProductShape.extend({
  label: LabelFactsShape.exactOptional(),
});

const minor = z.int().min(0);

export const PricePolicyShape: z.ZodType<PricePolicy> = z.strictObject({
  lossShare: z.int().min(0).max(WHOLE),
  jarMinor: z.record(z.string(), minor),
  labelMinor: minor,
  labourPerJarMinor: minor,
  labourPerBatchMinor: minor,
  jarsPerBatch: z.int().positive(),
  overheadPerJarMinor: minor.exactOptional(),
  overheadShare: minor.exactOptional(),
  profit: z.strictObject({ kind: z.enum(["markup", "margin"]), share: z.int().min(0) }),
  taxShare: z.int().min(0).max(WHOLE),
  taxIncluded: z.boolean().exactOptional(),
  roundUpToMinor: z.int().positive(),
  leastMinor: z.record(z.string(), minor).exactOptional(),
  mostMinor: z.record(z.string(), z.int().positive()).exactOptional(),
  materialAt: z.enum(["pack", "dearest-lot"]).exactOptional(),
});

/** Coldest and hottest a parcel may be said to get [C]; beyond is a slip of the pen, common practice, no source */
export const PARCEL_RANGE_C = { least: -40, greatest: 70 } as const;

/** Where parcels go, with the warmth a parcel meets there from January to December [C] */
export const ParcelZoneShape = z.strictObject({
  id: Id,
  name: z.string().min(1),
  monthsCelsius: z
    .array(z.number().min(PARCEL_RANGE_C.least).max(PARCEL_RANGE_C.greatest))
    .length(12),
});

export const WithdrawalShape: z.ZodType<Withdrawal> = z.discriminatedUnion("kind", [
  z.strictObject({ kind: z.literal("days"), days: z.int().min(1).max(WITHDRAWAL_DAYS_MOST) }),
  z.strictObject({ kind: z.literal("made-to-wish") }),
  z.strictObject({ kind: z.literal("own-words"), words: z.string().min(1) }),
]);

const CarriageDaysShape = z.strictObject({ least: z.int().min(0), most: z.int().min(1) });

/** A way to send an order as the maker sets it. */
const CarriageSetShape = z.strictObject({
  id: Id,
  name: z.string().min(1),
  /** What the customer pays for it, tax included [minor units] */
  minor: z.int().min(0),
  days: CarriageDaysShape.exactOptional(),
  /** Ids of the parcel zones it goes to; everywhere when missing. */
  zones: z.array(Id).min(1).exactOptional(),
});

/** What a shop says of itself and its bench. */
export const ShopParticularsShape = z.strictObject({
  maker: z.string().min(1),
  /** Steps of the scale [mg] */
  scaleStepMg: z.int().positive(),
  country: z.string().length(2),
  /** Where the bench stands, IANA name: batches are numbered by its day. */
  timeZone: z.string(),
  /** Most that is melted and whipped at once [mg] */
  vesselMg: z.int().positive().exactOptional(),
  /** What the papers of the bench speak, when it is not what the shop speaks. */
  benchLanguage: z.enum(BENCH_LANGUAGES).exactOptional(),
  /** Days between an order and its parcel. */
  leadDays: z.int().min(0).exactOptional(),
  zones: z.array(ParcelZoneShape).exactOptional(),
  /** Zones taken out, kept so that they can be put back. */
  formerZones: z.array(ParcelZoneShape).exactOptional(),
  /** Who answers for the product by law, as the label names them. */
  responsible: z
    .strictObject({ name: z.string().min(1), address: z.string().min(1) })
    .exactOptional(),
  /** Whether customers may change their mind; what the law of the country gives when not said. */
  withdrawal: WithdrawalShape.exactOptional(),
  /** Ways to send an order; without one no address is asked for. */
  carriage: z.array(CarriageSetShape).max(CARRIAGE_WAYS_MOST).exactOptional(),
  /** ISO 3166-1 codes of the countries parcels go to; the bench's own when missing. */
  deliverTo: z.array(z.string().length(2)).min(1).exactOptional(),
  label: LabelSettingsShape.exactOptional(),
});

export type ShopParticulars = z.infer<typeof ShopParticularsShape>;

const ParcelSeasonShape = z.object({
  zone: z.object({ id: z.string(), name: z.string() }),
  shipDay: z.string(),
  celsius: z.number(),
  leastCelsius: z.number(),
});

/** Ways to send an order, as they are frozen with a quote. */
export const CarriageOffersShape: z.ZodType<CarriageOffers> = z.object({
  ways: z.array(z.object({ name: z.string(), minor, days: CarriageDaysShape.exactOptional() })),
  countries: z.array(z.string()),
});

/** Where a parcel goes, as the customer told the till. */
export const DeliveryAddressShape = z.object({
  name: z.string(),
  lines: z.array(z.string()),
  city: z.string(),
  region: z.string(),
  postcode: z.string(),
  country: z.string(),
});

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
  taxOnTop: z.literal(true).exactOptional(),
  firmness: z.string(),
  softensAboveCelsius: z.number().nullable(),
  parcel: ParcelSeasonShape.exactOptional(),
  withdrawal: WithdrawalShape.exactOptional(),
  carriage: CarriageOffersShape.exactOptional(),
  issuedAt: z.int(),
  expiresAt: z.int(),
});

/** A firmness law; an exponent of solids that is not above 0 would call more solids softer. */
export const FirmnessLawShape: z.ZodType<FirmnessLaw> = z.strictObject({
  scalePa: z.number().positive(),
  solidsExponent: z.number().positive(),
  airExponent: z.number().min(0),
});
