/**
 * What would have to give, where no blend inside the bounds passes: each rule and each bound that lets a blend through
 * when it gives way by itself, with the least by which it must.
 */
import { WHOLE } from "../../blend.ts";
import { FIRMNESS_CLASSES } from "../../judge/firmness.ts";
import { gradeOf } from "../../judge/pore-rating.ts";
import { COLDEST_C } from "../../judge/softening.ts";
import type { Rules } from "../../judge/verdict.ts";
import type { JudgingGround } from "../rule-check.ts";
import { type Scene, type Slot, ingredientsIn } from "./scene.ts";
import { type Found, type Searched, search } from "./search.ts";
import { judgeOn } from "./settle.ts";

export interface Conflict {
  readonly gives:
    | "firmness-softest"
    | "firmness-hardest"
    | "softens-above"
    | "pore-rating"
    | "unrated"
    | "strictness"
    | "least"
    | "greatest";
  /** Ingredient or place whose bound it is; "blend" for a rule. */
  readonly subject: string;
  /** As it stands, and as it would have to be: class, temperature [C], rating, or share [hundredths of a percent] */
  readonly stands: number | string;
  readonly needed: number | string;
}

/** Fillings that came nearest: with a rule or bound let go their oils alone are tried, so a bound may need less yet. */
const NEAREST_TRIED = 3;

/** @param missed the fillings that were solved and did not pass */
export function conflictsOf(
  scene: Scene,
  question: JudgingGround,
  missed: Searched["missed"],
): Conflict[] {
  const near = missed.slice(0, NEAREST_TRIED).map(({ filling }) => filling.ingredients);
  const slots = scene.slots.map((slot, at) => ({
    ...slot,
    options: near.length > 0 ? [...new Set(near.map((each) => each[at]!))] : slot.options,
    wanted: { least: slot.least, greatest: slot.greatest },
  }));
  const free: Scene = { ...scene, slots, wanted: new Map() };
  const anyOil: Scene = {
    ...free,
    slots: slots.map((slot, at) => ({ ...slot, options: scene.slots[at]!.options })),
  };
  const ingredients = ingredientsIn(scene);
  const passing = (rules: Rules, within: Scene = free): Found | undefined =>
    search({ ...within, rules }, judgeOn({ ...question, rules }, ingredients)).found;
  return [
    ...firmnessConflicts(scene.rules, passing),
    ...softensConflicts(scene.rules, passing, anyOil),
    ...poreConflicts(free, passing),
    ...slots.flatMap((slot, at) => boundConflicts(free, slot, at, passing)),
  ];
}

type Passing = (rules: Rules, within?: Scene) => Found | undefined;

function firmnessConflicts(rules: Rules, passing: Passing): Conflict[] {
  const ranks = rules.firmness?.map((each) => FIRMNESS_CLASSES.indexOf(each)) ?? [];
  if (ranks.length === 0) return [];
  const [softest, hardest] = [Math.min(...ranks), Math.max(...ranks)];
  const conflicts: Conflict[] = [];
  const tryWindow = (
    gives: "firmness-softest" | "firmness-hardest",
    stands: number,
    to: number,
  ) => {
    const firmness = FIRMNESS_CLASSES.slice(Math.min(softest, to), Math.max(hardest, to) + 1);
    if (!passing({ ...rules, firmness })) return false;
    const word = (rank: number) => FIRMNESS_CLASSES[rank]!;
    conflicts.push({ gives, subject: "blend", stands: word(stands), needed: word(to) });
    return true;
  };
  for (let to = softest - 1; to >= 0 && !tryWindow("firmness-softest", softest, to);) to--;
  const last = FIRMNESS_CLASSES.length;
  for (let to = hardest + 1; to < last && !tryWindow("firmness-hardest", hardest, to);) to++;
  return conflicts;
}

/** The warmest limit, in tenths of a degree, that lets a blend through: by halving, then up among all oils. */
function softensConflicts(rules: Rules, passing: Passing, anyOil: Scene): Conflict[] {
  const { softensAboveLeastCelsius: stands, ...others } = rules;
  if (stands === undefined || !passing(others)) return [];
  let holds = 10 * COLDEST_C;
  let fails = Math.ceil(10 * stands);
  while (fails - holds > 1) {
    const middle = Math.floor((holds + fails) / 2);
    if (passing({ ...rules, softensAboveLeastCelsius: middle / 10 })) holds = middle;
    else fails = middle;
  }
  const isMore = () => passing({ ...rules, softensAboveLeastCelsius: (holds + 1) / 10 }, anyOil);
  while (holds + 1 < 10 * stands && isMore()) holds++;
  return [{ gives: "softens-above", subject: "blend", stands, needed: holds / 10 }];
}

function poreConflicts(free: Scene, passing: Passing): Conflict[] {
  const { rules } = free;
  const { poreRatingMost: stands } = rules;
  const conflicts: Conflict[] = [];
  if (stands !== undefined) {
    const grades = ingredientsIn(free).map(
      (ingredient) => gradeOf({ ingredient, share: WHOLE }, rules) ?? 0,
    );
    const higher = [...new Set(grades)].filter((grade) => grade > stands).sort((a, b) => a - b);
    const needed = higher.find((poreRatingMost) => passing({ ...rules, poreRatingMost }));
    if (needed !== undefined) {
      conflicts.push({ gives: "pore-rating", subject: "blend", stands, needed });
    }
    if (rules.unrated !== "tell" && passing({ ...rules, unrated: "tell" })) {
      const words = { stands: "cannot-judge", needed: "tell" };
      conflicts.push({ gives: "unrated", subject: "blend", ...words });
    }
  }
  if (rules.strictness !== "central" && passing({ ...rules, strictness: "central" })) {
    const words = { stands: "whole-band", needed: "central" };
    conflicts.push({ gives: "strictness", subject: "blend", ...words });
  }
  return conflicts;
}

/** A bound let go at one end; what lies beyond it is what the blend costs. */
function boundConflicts(free: Scene, slot: Slot, at: number, passing: Passing): Conflict[] {
  const ends = [
    { gives: "least", stands: slot.least, open: { least: 0, greatest: slot.greatest }, sign: -1 },
    {
      gives: "greatest",
      stands: slot.greatest,
      open: { least: slot.least, greatest: WHOLE },
      sign: 1,
    },
  ] as const;
  return ends.flatMap(({ gives, stands, open, sign }) => {
    const slots = free.slots.map((each, other) => (other === at ? { ...each, ...open } : each));
    const found = passing(free.rules, { ...free, slots });
    if (!found) return [];
    return [{ gives, subject: slot.id, stands, needed: stands + sign * found.cost }];
  });
}
