/**
 * The least that one rule would have to be loosened.
 */
import { gradeOf } from "../../judge/pore-rating.ts";
import type { JudgingGround } from "../rule-check.ts";
import { type Ailing, type Found, judged, tried } from "./ailing.ts";
import { type Change, changeRules, windowOver } from "./change.ts";
import { type Climbed, climb } from "./climb.ts";
import { BIT, type Referee, refereeOf, standing } from "./referee.ts";
import { searchPassing } from "./search.ts";
import { type Point, choiceOf } from "./space.ts";

export function* mendSoftening(ailing: Ailing): Found {
  const { space, ground } = ailing;
  const { softensAboveLeastCelsius: from, ...others } = ground.rules;
  if (from === undefined) return undefined;
  const point = yield* bestBut(ailing, others, BIT["softens-too-low"], (own) => own.softens);
  if (!point) return undefined;
  const choice = choiceOf(space, point);
  const told = judged(ailing, choice);
  const reached =
    ground.rules.strictness === "central"
      ? told?.softensAboveCelsius
      : told?.softensAboveLeastCelsius;
  if (reached === undefined) return undefined;
  const to = Math.floor(reached * 10) / 10;
  return tried(ailing, { kind: "softens-above", from, to }, choice);
}

export function* mendFirmness(ailing: Ailing): Found {
  const { firmness: from, ...others } = ailing.ground.rules;
  if (!from || from.length === 0) return undefined;
  const bits = BIT["too-soft"] | BIT["too-hard"];
  const point = yield* bestBut(ailing, others, bits, (own) => Math.min(own.firmLow, own.firmHigh));
  if (!point) return undefined;
  const choice = choiceOf(ailing.space, point);
  const told = judged(ailing, choice)?.firmness;
  if (!told) return undefined;
  const isCentral = ailing.ground.rules.strictness === "central";
  const [lowest, highest] = isCentral ? [told.settled, told.settled] : [told.lowest, told.highest];
  const to = windowOver(from, lowest, highest);
  return tried(ailing, { kind: "firmness", from, to }, choice);
}

/** The choice that misses one rule by least while it meets all others. */
function* bestBut(
  { space, ground, referee, chance, misses }: Ailing,
  others: JudgingGround["rules"],
  bits: number,
  margin: (margins: ReturnType<Referee["judge"]>["margins"]) => number,
): Generator<undefined, Point | undefined> {
  const judge = refereeOf(space, { ...ground, rules: others });
  const worth = (point: Point) => {
    const { against, margins } = referee.judge(point);
    return (against & ~bits) === 0 ? margin(margins) : -Infinity;
  };
  let best: Climbed | undefined;
  // Once from what nearly passes and once from anywhere, because a climb ends on the nearest ridge.
  for (const starts of [misses, []]) {
    const start = yield* searchPassing(space, judge, chance, starts);
    if (!start) continue;
    const climbed = yield* climb(space, start, worth);
    if (!best || climbed.worth > best.worth) best = climbed;
  }
  return best?.point;
}

export function* mendPores(ailing: Ailing): Found {
  const { space, ground } = ailing;
  const from = ground.rules.poreRatingMost;
  if (from === undefined) return undefined;
  const grades = space.ingredients.map((ingredient) =>
    gradeOf({ ingredient, share: 1 }, ground.rules),
  );
  const higher = [...new Set(grades)].filter((grade) => grade !== undefined && grade > from);
  for (const to of (higher as number[]).sort((one, other) => one - other)) {
    const found = yield* mendByRule(ailing, { kind: "pore-ceiling", from, to });
    if (found) return found;
  }
  return undefined;
}

export function* mendUnrated(ailing: Ailing): Found {
  const { space, ground } = ailing;
  const isAgainst = (bits: number) => (bits & BIT["pore-rating-unrated"]) !== 0;
  if (!space.ingredients.some((each) => isAgainst(standing(each, ground.rules)))) return undefined;
  return yield* mendByRule(ailing, { kind: "unrated-told" });
}

export function* mendStrictness(ailing: Ailing): Found {
  if (ailing.ground.rules.strictness === "central") return undefined;
  return yield* mendByRule(ailing, { kind: "central" });
}

function* mendByRule(ailing: Ailing, change: Change): Found {
  const { space, ground, chance, misses } = ailing;
  const judge = refereeOf(space, { ...ground, rules: changeRules(ground.rules, change) });
  const point = yield* searchPassing(space, judge, chance, misses);
  return point && tried(ailing, change, choiceOf(space, point));
}
