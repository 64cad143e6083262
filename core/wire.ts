/**
 * The JSON shapes that service, widget and host shops exchange. Shapes only; the service parses them with schemas of
 * its own.
 */
import type { Choice, Jar, Product } from "./compose/product.ts";
import type { Finding } from "./finding.ts";
import type { Ingredient } from "./ingredient.ts";
import type { FirmnessLaw } from "./judge/firmness.ts";
import type { SolidsExplained } from "./judge/explain.ts";
import type { Judgement } from "./judge/verdict.ts";
import type { Conflict } from "./order/nearest/conflicts.ts";
import type { NearestChoice } from "./order/nearest/nearest.ts";
import type { WishConflict } from "./order/wishes/conflicts.ts";
import type { Wish, Wishes } from "./order/wishes/wish.ts";
import type { WishOffer } from "./order/wishes/wishes.ts";
import type { CarriageOffers } from "./order/carriage.ts";
import type { Withdrawal } from "./order/withdrawal.ts";
import type { Currency } from "./price/money.ts";
import type { Tariff } from "./price/tariff.ts";
import type { TaxOnTop } from "./price/tax.ts";

/** GET /v1/products/:product: all a page needs to compose, judge and price without asking again. */
export interface ProductOffer {
  readonly product: Product;
  /** Published version; a quote names it. */
  readonly version: number;
  readonly ingredients: readonly Ingredient[];
  /** By jar id. */
  readonly tariffs: Readonly<Record<string, Tariff>>;
  readonly currency: Currency;
  /** Tax that the till adds to these prices; missing when they hold it, or none is charged. */
  readonly taxOnTop?: TaxOnTop;
  /** BCP 47 language tag of the shop. */
  readonly locale: string;
  /** Payment is only practised: no money moves. */
  readonly practice: boolean;
  /** Firmness law of the maker's own kitchen; the published one when missing. */
  readonly law?: FirmnessLaw;
  /** The parcel whose warmth the rules already allow for; missing when the product's own limit stands. */
  readonly parcel?: ParcelSeason;
  /** Whether a customer may change their mind; missing where neither the maker nor the law of the shop says. */
  readonly withdrawal?: Withdrawal;
}

/** What a parcel of this month asks of a jar. */
export interface ParcelSeason {
  readonly zone: { readonly id: string; readonly name: string };
  /** ISO day the parcel leaves. */
  readonly shipDay: string;
  /** Warmth a parcel meets there in that month [C] */
  readonly celsius: number;
  /** Least *softens above* that follows [C] */
  readonly leastCelsius: number;
}

/** POST /v1/verdicts and /v1/quotes: what is to be judged. */
export interface JudgeRequest {
  readonly product: string;
  readonly choice: Choice;
  /** Where the parcel goes; the warmest zone of the shop when not said. */
  readonly zone?: string;
}

/** POST /v1/verdicts */
export interface VerdictRequest extends JudgeRequest {
  /** Tell what makes the solids as well; not told when not said. */
  readonly explain?: boolean;
}

export interface VerdictAnswer extends Judgement {
  /** Findings as sentences, in the order of `findings`. */
  readonly sentences: readonly string[];
  /** What makes the solids, when it was asked for; empty when the blend cannot be judged. */
  readonly explanation?: readonly (SolidsExplained & { readonly sentence: string })[];
}

/** POST /v1/nearest */
export interface NearestFoundAnswer extends Omit<NearestChoice, "blend" | "check"> {
  /** "2 % less cocoa butter, 2 % more sunflower oil" */
  readonly sentence: string;
}

export interface NoneOrderableAnswer {
  readonly kind: "none";
  readonly conflicts: readonly (Conflict & { readonly sentence: string })[];
  readonly isWhole: boolean;
  /** Where no single rule or bound would be enough; null otherwise. */
  readonly sentence: string | null;
}

/** A figure is missing without which nothing can be judged. */
export interface CannotJudgeAnswer {
  readonly kind: "cannot-judge";
  readonly findings: readonly (Finding & { readonly sentence: string })[];
}

export type NearestAnswer = NearestFoundAnswer | NoneOrderableAnswer | CannotJudgeAnswer;

/** POST /v1/wishes */
export interface WishesRequest extends JudgeRequest {
  /** Jar whose price is looked at; needed where a price is wished for. */
  readonly jar?: string;
  /** At least one. */
  readonly wishes: Wishes;
}

export interface WishOfferAnswer extends Omit<WishOffer, "blend"> {
  /** No capital and no full stop; empty when there is nothing to say. */
  readonly sentences: { readonly gains: string; readonly gives: string };
}

export type WishesAnswer =
  | {
      readonly kind: "found";
      /** One to three, the best first. */
      readonly offers: readonly WishOfferAnswer[];
      readonly isWhole: boolean;
    }
  | {
      readonly kind: "none";
      readonly because: readonly (WishConflict & { readonly sentence: string })[];
      /** Where no single wish stands in the way; null otherwise. */
      readonly sentence: string | null;
      /** The best that keeps all wishes but one. */
      readonly nearest: (WishOfferAnswer & { readonly without: Wish }) | null;
      readonly isOrderable: boolean;
    }
  | CannotJudgeAnswer;

/** POST /v1/blend-links: the code of a blend that keeps the maker's bounds; nothing is stored. */
export interface BlendLinkRequest {
  readonly product: string;
  readonly choice: Choice;
  readonly jar: string;
}

export interface BlendLinkAnswer {
  /** For the address of the shop's page, as `?blend=<code>`. */
  readonly code: string;
}

/** GET /v1/blend-links/:code. The choice was made with `version`, and is to be judged by what is for sale now. */
export interface BlendOpened {
  readonly product: { readonly id: string; readonly name: string };
  readonly version: number;
  readonly choice: Choice;
  readonly jar: string;
}

/** POST /v1/quotes */
export interface QuoteRequest extends JudgeRequest {
  readonly jar: string;
  readonly quantity: number;
}

/** The frozen facts of a quote: what will be made and what it costs. */
export interface QuoteSnapshot {
  readonly id: string;
  readonly product: { readonly id: string; readonly name: string; readonly version: number };
  readonly base: { readonly id: string; readonly name: string };
  readonly choice: Choice;
  /** Ingredients as they will be weighed and labelled, with shares [hundredths of a percent]. */
  readonly parts: readonly {
    readonly ingredient: string;
    readonly name: string;
    readonly inci: string;
    readonly share: number;
  }[];
  readonly jar: Jar;
  readonly quantity: number;
  readonly currency: Currency;
  /** Price of one jar, with tax unless it comes on top [minor units] */
  readonly jarMinor: number;
  readonly per100gMinor: number;
  /** What the customer pays: the jars, and the tax where it comes on top [minor units] */
  readonly totalMinor: number;
  /** Tax that the total holds, rounded half up once for the whole order [minor units] */
  readonly taxMinor: number;
  /** The tax was added to the price of the jars; missing when their price held it. */
  readonly taxOnTop?: true;
  readonly firmness: string;
  readonly softensAboveCelsius: number | null;
  /** The season it was judged by; missing when the product's own limit stood. */
  readonly parcel?: ParcelSeason;
  /** What was told of changing one's mind; missing when nothing was. */
  readonly withdrawal?: Withdrawal;
  /** Ways to send it, of which the customer chooses one when paying, on top of the total; missing when none are set. */
  readonly carriage?: CarriageOffers;
  /** Seconds since 1970. */
  readonly issuedAt: number;
  readonly expiresAt: number;
}

export interface QuoteAnswer {
  readonly quote: QuoteSnapshot;
  /** Compact JWS over the quote; altering one byte makes it worthless. */
  readonly token: string;
}

/** POST /v1/orders with { quote: token } */
export interface OrderAnswer {
  readonly reference: string;
  readonly state: string;
  /** Page with the order's state, for the customer alone. */
  readonly orderUrl: string;
  /** Where to pay; null when there is nothing left to pay. */
  readonly payUrl: string | null;
}

/** GET /v1/orders/:order/:token, for whoever holds the token. */
export interface OrderStanding {
  readonly reference: string;
  readonly state: string;
  /** [minor units] */
  readonly totalMinor: number;
  /** ISO 4217 */
  readonly currency: string;
  /** Code of the blend, to order it again; null when it can no longer be read. */
  readonly blend: string | null;
}

/** RFC 9457 problem details, with our findings where a blend is the matter. */
export interface Problem {
  readonly type: string;
  readonly title: string;
  readonly status: number;
  readonly detail: string;
  /** Stable code, chapter.subject.reason. */
  readonly code: string;
  readonly instance?: string;
  readonly findings?: readonly (Finding & { readonly sentence: string })[];
  readonly errors?: readonly { readonly pointer: string; readonly detail: string }[];
}
