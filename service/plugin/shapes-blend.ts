/**
 * The answers about a choice: its verdict, what is near it, what fits wishes, its code and its price, as schemas.
 */
import type { BlendLinkAnswer, BlendOpened, QuoteAnswer } from "#core/wire.ts";
import { FIRMNESS_CLASSES } from "#core/judge/firmness.ts";
import * as z from "zod";
import { ChoiceShape, QuoteSnapshotShape } from "../shapes.ts";

const Minor = z.int().describe("[minor units]");
const Share = z.int().describe("[hundredths of a percent]");
const Celsius = z.number().describe("[°C]");
const Firmness = z.enum(FIRMNESS_CLASSES);

const FindingShape = z.object({
  code: z.string().describe("Stable: chapter.subject.reason."),
  subject: z.string().describe("Ingredient, place or rule it is about."),
  measured: z.union([z.number(), z.string()]).exactOptional(),
  limit: z.union([z.number(), z.string()]).exactOptional(),
  unit: z.string().exactOptional(),
  mend: z.enum(["customer", "maker", "nobody"]).describe("Who can mend it."),
});
export const SaidFindingShape = FindingShape.extend({
  sentence: z.string().describe("The finding in words."),
});

const AtUseShape = z.object({
  celsius: Celsius,
  fresh: Firmness,
  settled: Firmness,
  yieldPa: z.number().describe("Settled yield value [Pa]"),
  lowest: Firmness,
  highest: Firmness,
});

export const VerdictAnswerShape = z.object({
  verdict: z.enum(["orderable", "refused", "cannot-judge"]),
  findings: z.array(FindingShape),
  sentences: z.array(z.string()).describe("Findings in words, in the same order."),
  solidFat: z
    .array(
      z.object({
        celsius: Celsius,
        fresh: z.number(),
        settled: z.number(),
        structure: z.number(),
        low: z.number(),
        high: z.number(),
      }),
    )
    .describe("Solid fat content [% by mass]"),
  firmness: AtUseShape.exactOptional(),
  places: z.array(AtUseShape.extend({ name: z.string() })).exactOptional(),
  softensAboveCelsius: Celsius.exactOptional(),
  softensAboveLeastCelsius: Celsius.exactOptional(),
  slipMeltingCelsius: Celsius.exactOptional(),
  iodineValue: z.number().exactOptional(),
  saponificationValue: z.number().exactOptional(),
  oxidation: z
    .object({
      order: z.enum(["steady", "ordinary", "quick", "cannot-judge"]),
      oxidizability: z.number().exactOptional(),
      unknown: z.array(z.string()),
    })
    .exactOptional(),
  poreRating: z.object({
    highest: z.object({ ingredient: z.string(), value: z.number() }).exactOptional(),
    mean: z.number().exactOptional(),
    unrated: z.array(z.string()),
  }),
  oilPhase: z
    .object({
      viscosityMm2PerS: z.number().exactOptional(),
      step: z.enum(["thin", "ordinary", "thick"]).exactOptional(),
      leftOnSkinPercent: z.number(),
      onSkin: z.enum(["melts on contact", "leaves a film"]),
    })
    .exactOptional(),
  explanation: z
    .array(
      z.object({
        celsius: Celsius,
        state: z.enum(["fresh", "settled"]),
        solidFat: z.number(),
        groups: z.array(
          z.object({
            group: z.enum(["trisaturated", "SUS", "SSU", "SUU", "UUU", "lauric", "wax"]),
            points: z.number(),
          }),
        ),
        ingredients: z.array(z.object({ ingredient: z.string(), points: z.number() })),
        unexplained: z.number(),
        sentence: z.string(),
      }),
    )
    .exactOptional(),
});

const ChangeShape = z.object({ ingredient: z.string(), from: Share, to: Share });

const CannotJudgeShape = z.object({
  kind: z.literal("cannot-judge"),
  findings: z.array(SaidFindingShape),
});

export const NearestAnswerShape = z.discriminatedUnion("kind", [
  z.object({
    kind: z.literal("found"),
    choice: ChoiceShape,
    moved: Share,
    changes: z.array(ChangeShape),
    sentence: z.string(),
  }),
  z.object({
    kind: z.literal("none"),
    conflicts: z.array(
      z.object({
        gives: z.enum([
          ...(["firmness-softest", "firmness-hardest", "softens-above", "pore-rating"] as const),
          ...(["unrated", "strictness", "least", "greatest"] as const),
        ]),
        subject: z.string(),
        stands: z.union([z.number(), z.string()]),
        needed: z.union([z.number(), z.string()]),
        sentence: z.string(),
      }),
    ),
    isWhole: z.boolean().describe("Every combination of oils was in the running."),
    sentence: z.string().nullable(),
  }),
  CannotJudgeShape,
]);

const TradeShape = z.object({
  code: z.string().describe("What is gained or given up."),
  subject: z.string().exactOptional(),
  from: z.number().exactOptional(),
  to: z.number().exactOptional(),
});

const WishShape = z.discriminatedUnion("wish", [
  z.object({ wish: z.literal("feel"), way: z.enum(["softer", "firmer"]) }),
  z.object({ wish: z.literal("oil-phase"), way: z.enum(["thinner", "richer"]) }),
  z.object({ wish: z.literal("holds-to"), celsius: Celsius }),
  z.object({ wish: z.literal("pore-rating"), most: z.number() }),
  z.object({ wish: z.literal("without"), ingredient: z.string() }),
  z.object({ wish: z.literal("without-family"), family: z.string() }),
  z.object({ wish: z.literal("unscented") }),
  z.object({ wish: z.literal("price"), mostMinor: Minor }),
]);

const WishOfferShape = z.object({
  choice: ChoiceShape,
  score: z.number().describe("0 fits perfectly; compare within one answer only."),
  moved: Share,
  changes: z.array(ChangeShape),
  gains: z.array(TradeShape),
  gives: z.array(TradeShape),
  sentences: z.object({ gains: z.string(), gives: z.string() }),
});

export const WishesAnswerShape = z.discriminatedUnion("kind", [
  z.object({
    kind: z.literal("found"),
    offers: z.array(WishOfferShape).describe("One to three, the best first."),
    isWhole: z.boolean(),
  }),
  z.object({
    kind: z.literal("none"),
    because: z.array(
      z.object({
        wish: WishShape,
        against: z.enum(["always-in-the-jar", "scent-untold", "rules-and-bounds"]),
        subjects: z.array(z.string()),
        couldBe: z.number().exactOptional(),
        sentence: z.string(),
      }),
    ),
    sentence: z.string().nullable(),
    nearest: WishOfferShape.extend({ without: WishShape }).nullable(),
    isOrderable: z.boolean(),
  }),
  CannotJudgeShape,
]);

export const BlendLinkAnswerShape = z.object({
  code: z.string().describe("For the address of the shop's page, as ?blend=<code>."),
}) satisfies z.ZodType<BlendLinkAnswer>;

export const BlendOpenedShape = z.object({
  product: z.object({ id: z.string(), name: z.string() }),
  version: z.int(),
  choice: ChoiceShape,
  jar: z.string(),
}) satisfies z.ZodType<BlendOpened>;

export const QuoteAnswerShape = z.object({
  quote: QuoteSnapshotShape,
  token: z.string().describe("Compact JWS over the quote (RFC 7515), Ed25519."),
}) satisfies z.ZodType<QuoteAnswer>;
