/**
 * The plan as steps a maker follows at the bench, each with its figures, blanks to fill in and
 * cautions.
 */
import type { Blend } from "../blend.ts";
import type { FirmnessAtUse } from "../judge/verdict.ts";
import type { Caution, StepId } from "./cautions.ts";
import type { Plan } from "./plan.ts";
import { type Stage, inOrderWeighed, stageOf } from "./stages.ts";

export interface Range {
  readonly least?: number;
  readonly greatest?: number;
}

/** A place the maker fills in: "Reached ____ °C". */
export interface Blank {
  readonly label: string;
  readonly unit: string;
}

export interface Step {
  readonly id: StepId;
  readonly title: string;
  /** [C] */
  readonly celsius?: Range;
  readonly minutes?: Range;
  readonly sentences: readonly string[];
  readonly blanks: readonly Blank[];
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
  return {
    id: "weigh" as const,
    title: "Weigh",
    sentences: [
      "Clear and wipe the bench, and check the scale with a known weight.",
      "Weigh every line of the list into its own clean, dry, labelled vessel. Write down tare, " +
        "actual weight and lot.",
    ],
    blanks: [
      { label: "Known weight", unit: "g" },
      { label: "Scale shows", unit: "g" },
    ],
  };
}

function melt(blend: Blend, { holdC }: Plan) {
  if (holdC === undefined) return undefined;
  return {
    id: "melt" as const,
    title: "Melt and hold",
    celsius: { least: holdC, greatest: holdC + BATH_SWING_K },
    minutes: HOLD_MINUTES,
    sentences: [
      `Melt ${namesAt(blend, "pot")} together in a water bath.`,
      "Hold until no cloud and no grain is left, so that no old crystal can seed coarse ones.",
    ],
    blanks: [
      { label: "Reached", unit: "°C" },
      { label: "Held", unit: "min" },
    ],
  };
}

function oils(blend: Blend, { holdC }: Plan) {
  const names = namesAt(blend, "oils");
  if (names === "") return undefined;
  return {
    id: "oils" as const,
    title: "Oils, off the heat",
    sentences: [
      `${holdC === undefined ? "Stir together" : "Take the pot off the heat. Stir in"} ${names}.`,
      "It must stay clear. If it clouds, warm it gently until it is clear again.",
    ],
    blanks: [{ label: "Clear at", unit: "°C" }],
  };
}

function coolDown(blend: Blend, { coolDownC }: Plan) {
  if (coolDownC === undefined) return undefined;
  const powders = namesAt(blend, "cool-down", (kind) => kind === "powder");
  const others = namesAt(blend, "cool-down", (kind) => kind !== "powder");
  return {
    id: "cool-down" as const,
    title: "Cool-down additions, off the heat",
    celsius: { greatest: coolDownC },
    sentences: [
      "Let it cool, stirring now and then.",
      ...(others === "" ? [] : [`Stir in ${others}.`]),
      ...(powders === "" ? [] : [`Sieve in ${powders} and stir until no lump is left.`]),
    ],
    blanks: [{ label: "Added at", unit: "°C" }],
  };
}

function chill({ chillC }: Plan) {
  return {
    id: "chill" as const,
    title: "Chill",
    celsius: { least: chillC, greatest: chillC },
    sentences: [
      "Stand the bowl in iced water and keep that water out of the fat.",
      "Stir and scrape the sides all the time until it is thick and cloudy but still moves, " +
        "like soft custard. Trust your eye over the figure.",
    ],
    blanks: [{ label: "Reached", unit: "°C" }],
  };
}

function whip({ chillC, whipBelowC, densityGPerMl, overrun }: Plan) {
  const cupG = densityGPerMl * CUP_ML;
  const least = (cupG * (1 - DENSITY_TOLERANCE)).toFixed(0);
  const greatest = (cupG * (1 + DENSITY_TOLERANCE)).toFixed(0);
  return {
    id: "whip" as const,
    title: "Whip",
    celsius: { least: chillC, greatest: whipBelowC },
    sentences: [
      "Whip in short runs and chill again before it gets too warm: above the window it lets go " +
        "of its air.",
      `Stop when a level ${CUP_ML} ml cup of it holds ${cupG.toFixed(0)} g ` +
        `(${least} to ${greatest} g): ` +
        `${densityGPerMl.toFixed(2)} g/ml, overrun ${(100 * overrun).toFixed(0)} %.`,
    ],
    blanks: [
      { label: "Cup holds", unit: "g" },
      { label: "Ended at", unit: "°C" },
    ],
  };
}

/**
 * A jar made alone has no average to make up for it, so the label is the least and not the middle.
 */
function fill() {
  return {
    id: "fill" as const,
    title: "Fill",
    sentences: [
      "Tare each jar and fill by weight, never by volume, to at least the weight on its label.",
      "Keep a little of what is left over as the retained sample.",
    ],
    blanks: [
      { label: "Left over", unit: "g" },
      { label: "Sample kept at", unit: "" },
    ],
  };
}

function clean() {
  return {
    id: "clean" as const,
    title: "Clean",
    sentences: ["Scrape and wipe off the fat with paper before any water, then wash hot and dry."],
    blanks: [],
  };
}

function rest() {
  return {
    id: "rest" as const,
    title: "Rest",
    celsius: { greatest: REST_BELOW_C },
    minutes: REST_MINUTES,
    sentences: ["Leave the closed jars still and cool. They go on setting for days."],
    blanks: [
      { label: "From", unit: "" },
      { label: "To", unit: "" },
    ],
  };
}

function judge({ celsius, settled, lowest, highest }: FirmnessAtUse) {
  const spread = lowest === highest ? "" : `; ${lowest} to ${highest} is within the reckoning`;
  return {
    id: "judge" as const,
    title: `Judge on day ${JUDGE_AFTER_DAYS}, not before`,
    sentences: [
      `Press a finger into the retained sample at ${celsius} °C. Expected: ${settled}${spread}.`,
    ],
    blanks: [{ label: "Felt", unit: "" }],
  };
}

function namesAt(
  blend: Blend,
  stage: Stage,
  ofKind: (kind: string) => boolean = () => true,
): string {
  const names = inOrderWeighed(blend.parts)
    .filter(({ ingredient }) => stageOf(ingredient) === stage && ofKind(ingredient.kind))
    .map(({ ingredient }) => ingredient.name);
  return names.length < 2 ? names.join("") : `${names.slice(0, -1).join(", ")} and ${names.at(-1)}`;
}
