/**
 * The sentences a customer reads. Short, active, kind; what happened, what is kept, what to do.
 */
import { FIRMNESS_CLASSES, type FirmnessClass } from "#core/judge/firmness.ts";
import type { OilPhase } from "#core/judge/oil-phase.ts";
import type { Judgement } from "#core/judge/verdict.ts";
import type { Formats } from "./formats.ts";

/** A firmness class in one customer's word. */
export const FIRMNESS_WORD: Record<FirmnessClass, string> = {
  fluid: "runny",
  soft: "soft",
  firm: "firm",
  hard: "hard",
};

/** How a settled jar of a class behaves in the hand. */
const HANDLES: Record<FirmnessClass, string> = {
  fluid: "runny, it pours",
  soft: "soft, scoops easily",
  firm: "firm, give it a press",
  hard: "hard, warm it in your hand first",
};
const ON_SKIN: Record<FirmnessClass, string> = {
  fluid: "melts as you touch it",
  soft: "melts slowly as you rub",
  firm: "stays firm, needs rubbing in",
  hard: "stays hard, hardly melts",
};
const IN_A_PARCEL: Record<FirmnessClass, string> = {
  fluid: "turns runny, may set grainy",
  soft: "softens, keeps its body",
  firm: "stays firm",
  hard: "stays hard",
};

export interface KnownPlace {
  readonly name: string;
  readonly celsius: number;
  /**
   * On which side of its line the name reads, so that skin and parcel do not run into each other.
   */
  readonly anchor: "start" | "middle" | "end";
  readonly feel: Record<FirmnessClass, string>;
}

/**
 * Places whose warmth a person knows; temperatures are common practice, no source, skin excepted
 * (32 C).
 */
export function knownPlaces(useCelsius: number): KnownPlace[] {
  const indoors = useCelsius >= 18 && useCelsius <= 24;
  return [
    { name: "cool larder", celsius: 10, anchor: "middle", feel: HANDLES },
    {
      name: indoors ? "living room" : "at home",
      celsius: useCelsius,
      anchor: "middle",
      feel: HANDLES,
    },
    { name: "on skin", celsius: 32, anchor: "end", feel: ON_SKIN },
    { name: "hot parcel", celsius: 35, anchor: "start", feel: IN_A_PARCEL },
  ];
}

/**
 * "Sets soft and scoopable at 21 °C; holds its body to about 30 °C", with a line break where one
 * would breathe.
 */
export function sayFirmness(judgement: Judgement | undefined, formats: Formats): string {
  const firmness = judgement?.firmness;
  if (!firmness) return "How this one sets is not known";
  const { lowest, highest, celsius } = firmness;
  const at = formats.degrees(celsius);
  const sets = `${lowest === highest ? SETS[lowest] : `Sets ${span(lowest, highest)}`} at ${at}`;
  const holds = judgement.softensAboveCelsius;
  if (holds === undefined || highest === "fluid") return sets;
  return `${sets};\nholds its body to about ${formats.degrees(holds)}`;
}

const SETS: Record<FirmnessClass, string> = {
  fluid: "Stays runny",
  soft: "Sets soft and scoopable",
  firm: "Sets firm",
  hard: "Sets hard",
};

/** The same in a few words, for a base card or the strip. */
export function sayFirmnessShort(judgement: Judgement | undefined, formats: Formats): string {
  const firmness = judgement?.firmness;
  if (!firmness) return "firmness not known";
  const words = span(firmness.lowest, firmness.highest);
  const holds = judgement.softensAboveCelsius;
  return holds === undefined ? words : `${words}, holds to about ${formats.degrees(holds)}`;
}

/** "soft to firm": the classes the settled band reaches; empty when not known. */
export function sayClasses(judgement: Judgement | undefined): string {
  const firmness = judgement?.firmness;
  return firmness ? span(firmness.lowest, firmness.highest) : "";
}

/** "about 30 °C"; empty when nothing is to hold. */
export function sayHolds(judgement: Judgement | undefined, formats: Formats): string {
  const holds = judgement?.softensAboveCelsius;
  return holds === undefined ? "" : `about ${formats.degrees(holds)}`;
}

export const TAKE = "Take this blend";

/** Why nothing is offered in place of a refused blend. */
export const NO_ADVICE = {
  none: "No blend of this base is found that can be made just now. Take another base, or ask the maker.",
  "out-of-reach":
    "The nearest blend that can be made could not be looked up just now. Your blend is kept: move a share, or take the last change back.",
};

/** How the jar changes between the day it is whipped and a week later. */
export function saySettling(judgement: Judgement | undefined): string {
  const firmness = judgement?.firmness;
  if (!firmness) return "";
  const { fresh, settled } = firmness;
  if (rank(settled) > rank(fresh)) {
    const now = fresh === "fluid" ? "very soft" : FIRMNESS_WORD[fresh];
    return `Freshly whipped it is ${now}; it firms up over about a week.`;
  }
  return "It firms up a little over about a week, then stays as it is.";
}

function span(lowest: FirmnessClass, highest: FirmnessClass): string {
  return lowest === highest
    ? FIRMNESS_WORD[lowest]
    : `${FIRMNESS_WORD[lowest]} to ${FIRMNESS_WORD[highest]}`;
}

function rank(firmness: FirmnessClass): number {
  return FIRMNESS_CLASSES.indexOf(firmness);
}

export const VERDICT_WORD: Record<Judgement["verdict"], string> = {
  orderable: "Can be made",
  refused: "Can’t be made like this",
  "cannot-judge": "Can’t be judged",
};

/** What to do about a verdict that is no yes. */
export const VERDICT_NEXT: Record<Judgement["verdict"], string> = {
  orderable: "",
  refused: "",
  "cannot-judge":
    "We would rather not guess, so it can’t be ordered here. Take another oil, or ask the maker.",
};

export const OIL_PHASE_WORD: Record<NonNullable<OilPhase["step"]>, string> = {
  thin: "Thin: spreads quickly",
  ordinary: "In between: spreads as most plant oils do",
  thick: "Thick: spreads slowly",
};

export const PORE_MEANING =
  "The scale runs from 0 to 5 and comes from tests of single ingredients on rabbit ears: " +
  "a hint about an ingredient, no promise about this jar on your skin.";

export const MOVE_RULE =
  "Move one share and the others make room for it, each in step with how far it may still go. " +
  "Nothing leaves the maker’s limits. The notch marks the maker’s own share.";

export const PATCH_TEST =
  "Try it first: a coin-sized spot on the inner forearm, twice a day for seven days. If it itches, " +
  "reddens or swells, wash it off and stop. A quiet week is a good sign, not a proof.";

export const KEEPING =
  "Keep it closed, below 25 °C and out of the light, and take it with dry hands. If it melts and " +
  "cools slowly it may turn grainy: still good to use, only less fluffy.";

export const PRACTICE =
  "Practice till. This shop is trying things out: no money moves and no jar is sent.";

const FAMILY_WORD: Readonly<Record<string, string>> = {
  "tree-nut": "tree nuts",
  "tree-nut-formerly-listed": "formerly listed tree nuts",
  "other-nut": "other nuts",
  soy: "soya",
  "soy-possible": "possibly soya",
  bee: "bee products",
};

/** An allergen family as a customer would name it. */
export function sayFamily(family: string): string {
  return FAMILY_WORD[family] ?? family.replaceAll("-", " ");
}
