/**
 * The plan as steps a maker follows at the bench, each with its figures, blanks to fill in and
 * cautions, in codes: a paper puts them into the words of its language.
 */
import type { Blend } from "../blend.ts";
import type { FirmnessAtUse } from "../judge/verdict.ts";
import type { Caution, StepId } from "./cautions.ts";
import type { Plan } from "./plan.ts";
import { type Said, said } from "./said.ts";
import { type Stage, inOrderWeighed, stageOf } from "./stages.ts";

export interface Range {
  readonly least?: number;
  readonly greatest?: number;
}

/** A place the maker fills in: "Reached ____ °C". */
export interface Blank {
  readonly id: BlankId;
  readonly unit: "g" | "°C" | "min" | "";
}

export type BlankId =
  | ("known" | "shows" | "reached" | "held" | "clear" | "added" | "cup" | "ended")
  | ("left" | "sample" | "from" | "to" | "felt");

/** What is written down at each step; the same for every batch. */
export const BLANKS: Readonly<Record<StepId, readonly Blank[]>> = {
  weigh: [blank("known", "g"), blank("shows", "g")],
  melt: [blank("reached", "°C"), blank("held", "min")],
  oils: [blank("clear", "°C")],
  "cool-down": [blank("added", "°C")],
  chill: [blank("reached", "°C")],
  whip: [blank("cup", "g"), blank("ended", "°C")],
  fill: [blank("left", "g"), blank("sample", "")],
  clean: [],
  rest: [blank("from", ""), blank("to", "")],
  judge: [blank("felt", "")],
};

export interface Step {
  readonly id: StepId;
  /** [C] */
  readonly celsius?: Range;
  readonly minutes?: Range;
  readonly sentences: readonly Said[];
  readonly cautions: readonly Caution[];
}

/** A water bath is kept within about this of its mark (own choice) [K] */
const BATH_SWING_K = 3;
const HOLD_MINUTES = { least: 15, greatest: 20 };
const REST_MINUTES = { least: 24 * 60, greatest: 48 * 60 };
const REST_BELOW_C = 25;
/**
 * Shea and mango go on setting for one to two weeks (from memory); the promise is for the jar from
 * this day.
 */
export const JUDGE_AFTER_DAYS = 7;
const CUP_ML = 100;
/** How far the whipped density may lie from its target (own choice): 5 %. */
export const DENSITY_TOLERANCE = 0.05;

/**
 * Write the steps of a batch.
 * @param plan temperatures and targets of the batch
 * @param firmness what the settled jar is expected to be
 * @param cautions of the batch; each is put with the step it belongs to
 */
export function writeSteps(
  blend: Blend,
  plan: Plan,
  firmness: FirmnessAtUse,
  cautions: readonly Caution[],
): Step[] {
  const drafts: (Omit<Step, "cautions"> | undefined)[] = [
    weigh(),
    melt(blend, plan),
    oils(blend, plan),
    coolDown(blend, plan),
    chill(plan),
    whip(plan),
    fill(),
    clean(),
    rest(),
    judge(firmness),
  ];
  return drafts
    .filter((draft) => draft !== undefined)
    .map((draft) => ({ ...draft, cautions: cautions.filter(({ at }) => at === draft.id) }));
}

function weigh() {
  return { id: "weigh" as const, sentences: [said("weigh.bench"), said("weigh.list")] };
}

function melt(blend: Blend, { holdC }: Plan) {
  if (holdC === undefined) return undefined;
  return {
    id: "melt" as const,
    celsius: { least: holdC, greatest: holdC + BATH_SWING_K },
    minutes: HOLD_MINUTES,
    sentences: [said("melt.pot", { ingredients: idsAt(blend, "pot") }), said("melt.hold")],
  };
}

function oils(blend: Blend, { holdC }: Plan) {
  const ingredients = idsAt(blend, "oils");
  if (ingredients.length === 0) return undefined;
  const stir = holdC === undefined ? "oils.stir" : "oils.off-heat";
  return { id: "oils" as const, sentences: [said(stir, { ingredients }), said("oils.clear")] };
}

function coolDown(blend: Blend, { coolDownC }: Plan) {
  if (coolDownC === undefined) return undefined;
  const powders = idsAt(blend, "cool-down", (kind) => kind === "powder");
  const others = idsAt(blend, "cool-down", (kind) => kind !== "powder");
  return {
    id: "cool-down" as const,
    celsius: { greatest: coolDownC },
    sentences: [
      said("cool-down.cool"),
      ...(others.length > 0 ? [said("cool-down.stir", { ingredients: others })] : []),
      ...(powders.length > 0 ? [said("cool-down.sieve", { ingredients: powders })] : []),
    ],
  };
}

function chill({ chillC }: Plan) {
  return {
    id: "chill" as const,
    celsius: { least: chillC, greatest: chillC },
    sentences: [said("chill.bath"), said("chill.stir")],
  };
}

function whip({ chillC, whipBelowC, densityGPerMl, overrun }: Plan) {
  const cupG = densityGPerMl * CUP_ML;
  const stop = {
    cupMl: CUP_ML,
    cupG: Math.round(cupG),
    leastG: Math.round(cupG * (1 - DENSITY_TOLERANCE)),
    greatestG: Math.round(cupG * (1 + DENSITY_TOLERANCE)),
    densityGPerMl: Math.round(densityGPerMl * 100) / 100,
    overrunPercent: Math.round(100 * overrun),
  };
  return {
    id: "whip" as const,
    celsius: { least: chillC, greatest: whipBelowC },
    sentences: [said("whip.runs"), said("whip.stop", stop)],
  };
}

/**
 * A jar made alone has no average to make up for it, so the label is the least and not the middle.
 */
function fill() {
  return { id: "fill" as const, sentences: [said("fill.weigh"), said("fill.sample")] };
}

function clean() {
  return { id: "clean" as const, sentences: [said("clean.fat")] };
}

function rest() {
  return {
    id: "rest" as const,
    celsius: { greatest: REST_BELOW_C },
    minutes: REST_MINUTES,
    sentences: [said("rest.still")],
  };
}

function judge({ celsius, settled, lowest, highest }: FirmnessAtUse) {
  const expected = { celsius, firmness: settled };
  const press =
    lowest === highest
      ? said("judge.press", expected)
      : said("judge.press-within", { ...expected, lowest, highest });
  return { id: "judge" as const, sentences: [press] };
}

function idsAt(
  blend: Blend,
  stage: Stage,
  ofKind: (kind: string) => boolean = () => true,
): string[] {
  return inOrderWeighed(blend.parts)
    .filter(({ ingredient }) => stageOf(ingredient) === stage && ofKind(ingredient.kind))
    .map(({ ingredient }) => ingredient.id);
}

function blank(id: BlankId, unit: Blank["unit"]): Blank {
  return { id, unit };
}
