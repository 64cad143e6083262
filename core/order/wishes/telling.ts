/**
 * What an offer gains and what it gives up against the customer's own blend: codes and figures, no words.
 */
import type { Blend } from "../../blend.ts";
import { ratePores } from "../../judge/pore-rating.ts";
import { type Judgement, judgeBlend } from "../../judge/verdict.ts";
import { priceJar } from "../../price/price.ts";
import { THICKNESS_STEP, YIELD_STEP } from "../felt-steps.ts";
import type { Change } from "../nearest/nearest.ts";
import type { Task } from "./task.ts";

export type TradeCode =
  /** Feel at use, yield value [Pa] */
  | "softer"
  | "firmer"
  /** Oil phase on skin [mm2/s] */
  | "thinner"
  | "richer"
  /** Only in what is given up: a wished step that is only partly there; `to` is the part. */
  | "partly-softer"
  | "partly-firmer"
  | "partly-thinner"
  | "partly-richer"
  /** The thickness of the oil phase can no longer be told. */
  | "oil-phase-untold"
  /** Temperature to which the jar keeps its body, as strictly as the maker's rule [C] */
  | "holds-warmer"
  | "holds-less-warm"
  /** Highest pore rating that counts. */
  | "rated-lower"
  | "rated-higher"
  | "unrated"
  | "without"
  | "without-family"
  | "brings-family"
  | "unscented"
  /** An additive of the maker's whose scent is not on record. */
  | "scent-untold"
  /** Price of one jar [minor units] */
  | "cheaper"
  | "dearer"
  /** Shares of an ingredient [hundredths of a percent] */
  | "share";

export interface Trade {
  readonly code: TradeCode;
  /** Ingredient or allergen family. */
  readonly subject?: string;
  readonly from?: number;
  readonly to?: number;
}

export interface Trades {
  readonly gains: readonly Trade[];
  readonly gives: readonly Trade[];
}

/** A part of a clear step that is worth telling. */
const TOLD_STEP = 0.25;
/** Half a degree and more is worth telling. */
const TOLD_C = 0.5;

/** Compare an offer with the customer's own blend. */
export function tradesOf(task: Task, offer: Blend, changes: readonly Change[]): Trades {
  const own = task.desk.blend;
  const question = { ...task.question, rules: task.desk.product.rules, celsius: [] };
  const [was, is] = [own, offer].map((each) => judgeBlend(each, question));
  const gains: Trade[] = [];
  const gives: Trade[] = [];
  const tell = (isGain: boolean, trade: Trade) => (isGain ? gains : gives).push(trade);
  feelTrades(task, was!, is!, tell);
  oilPhaseTrades(task, was!, is!, tell);
  warmthTrades(task, was!, is!, tell);
  poreTrades(task, offer, tell);
  contentTrades(task, offer, tell);
  priceTrades(task, offer, tell);
  for (const { ingredient: subject, from, to } of changes) {
    gives.push({ code: "share", subject, from, to });
  }
  return { gains, gives };
}

type Tell = (isGain: boolean, trade: Trade) => void;

function feelTrades({ wishes: { feel } }: Task, was: Judgement, is: Judgement, tell: Tell): void {
  const [from, to] = [was.firmness?.yieldPa, is.firmness?.yieldPa];
  if (from === undefined || to === undefined) return;
  const steps = from === to ? 0 : Math.log(Math.max(1e-9, to) / Math.max(1e-9, from)) / YIELD_STEP;
  const code = steps > 0 ? "firmer" : "softer";
  stepTrades(steps, { code, from, to }, feel, tell);
}

function oilPhaseTrades(
  { wishes: { oilPhase } }: Task,
  was: Judgement,
  is: Judgement,
  tell: Tell,
): void {
  const [from, to] = [was.oilPhase?.viscosityMm2PerS, is.oilPhase?.viscosityMm2PerS];
  if (from === undefined) return;
  if (to === undefined) return tell(false, { code: "oil-phase-untold", from });
  const steps = Math.log(to / from) / THICKNESS_STEP;
  stepTrades(steps, { code: steps > 0 ? "richer" : "thinner", from, to }, oilPhase, tell);
}

function stepTrades(
  steps: number,
  trade: Trade & { readonly code: "softer" | "firmer" | "thinner" | "richer" },
  wished: string | undefined,
  tell: Tell,
): void {
  const isWished = trade.code === wished;
  if (!isWished && Math.abs(steps) < TOLD_STEP) return;
  tell(isWished, trade);
  // The search stops where the step is whole; a hundredth short of it is the rounding of shares.
  if (isWished && Math.abs(steps) < 0.99) {
    tell(false, { code: `partly-${trade.code}`, from: 1, to: Math.abs(steps) });
  }
}

function warmthTrades({ wishes, question }: Task, was: Judgement, is: Judgement, tell: Tell): void {
  const isCentral = question.rules.strictness === "central";
  const [from, to] = [was, is].map((each) =>
    isCentral ? each.softensAboveCelsius : each.softensAboveLeastCelsius,
  );
  if (to === undefined) return;
  const figures = from === undefined ? { to } : { from, to };
  if (wishes.holdsToCelsius !== undefined) tell(true, { code: "holds-warmer", ...figures });
  else if (from !== undefined && to < from - TOLD_C) {
    tell(false, { code: "holds-less-warm", from, to });
  }
}

function poreTrades({ wishes, question, desk }: Task, offer: Blend, tell: Tell): void {
  const [was, is] = [desk.blend, offer].map((each) => ratePores(each, question.rules));
  const [from, to] = [was!.highest?.value, is!.highest?.value];
  const isWished = wishes.poreRatingMost !== undefined;
  if (to !== undefined) {
    const figures = from === undefined ? { to } : { from, to };
    if (isWished) tell(true, { code: "rated-lower", ...figures });
    else if (from === undefined || to > from) tell(false, { code: "rated-higher", ...figures });
  }
  for (const subject of is!.unrated) {
    if (isWished || !was!.unrated.includes(subject)) tell(false, { code: "unrated", subject });
  }
}

function contentTrades({ wishes, desk, objective }: Task, offer: Blend, tell: Tell): void {
  for (const subject of wishes.without ?? []) tell(true, { code: "without", subject });
  for (const subject of wishes.withoutFamilies ?? []) {
    tell(true, { code: "without-family", subject });
  }
  const held = new Set(offer.parts.flatMap(({ ingredient }) => ingredient.allergenFamilies));
  for (const subject of held) {
    if (!objective.reference.families.has(subject)) tell(false, { code: "brings-family", subject });
  }
  if (!wishes.unscented) return;
  tell(true, { code: "unscented" });
  for (const { ingredient: subject } of desk.product.additives) {
    if (desk.ground.ingredientOf(subject)?.scented === undefined) {
      tell(false, { code: "scent-untold", subject });
    }
  }
}

function priceTrades({ desk: { tariff, blend }, wishes }: Task, offer: Blend, tell: Tell): void {
  if (!tariff) return;
  const { mostMinor: _most, ...open } = tariff;
  const [was, is] = [blend, offer].map((each) => priceJar(open, each));
  if (!is || !("jarMinor" in is)) return;
  const to = is.jarMinor;
  const from = was && "jarMinor" in was ? was.jarMinor : undefined;
  const figures = from === undefined ? { to } : { from, to };
  const isDearer = from !== undefined && to > from;
  if (isDearer) tell(false, { code: "dearer", ...figures });
  else if (wishes.priceMostMinor !== undefined || (from !== undefined && to < from)) {
    tell(true, { code: "cheaper", ...figures });
  }
}
