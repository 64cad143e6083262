/**
 * Why an ingredient could stand in for another, or not, in a few plain sentences.
 */
import { sayFinding, weightOf } from "../finding.ts";
import type { Shift, StandIn, StandInFigure } from "./stand-in.ts";

/** Less than this in settled yield value is called as firm: the finger cannot tell a tenth (own choice). */
const SAME_FIRMNESS = 0.1;
const SAME_CELSIUS = 0.2;
/** Half the worst error of the viscosity fit (own choice). */
const SAME_THICKNESS = 0.07;
const SAME_COST = 0.01;

const FIGURE_WORDS: Readonly<Record<StandInFigure, string>> = {
  firmness: "how firm it sets",
  "softens-above": "where it softens",
  "pore-grade": "its pore rating",
  "oil-phase": "how thick the oil is",
  oxidation: "how quickly it takes up oxygen",
  cost: "what it costs",
};

const OXYGEN_WORDS = { steady: "slowly", ordinary: "at an ordinary pace", quick: "quickly" };

/**
 * Say how a stand-in compares.
 * @param nameOf turns an ingredient id into the name people use
 * @param familyOf turns an allergen family into words
 * @returns whether it may be ordered comes first where it may not
 */
export function sayStandIn(
  standIn: StandIn,
  nameOf: (id: string) => string = (id) => id,
  familyOf: (family: string) => string = (family) => family,
): string {
  const phrases = [
    sayFirmness(standIn),
    saySoftening(standIn.softensAboveCelsius),
    sayThickness(standIn.viscosityMm2PerS),
    sayOxygen(standIn.oxidation),
    sayCost(standIn.costMinorPerKg),
  ].filter((phrase) => phrase !== undefined);
  const list = (families: readonly string[]) => families.map(familyOf).join(", ");
  return [
    sayVerdict(standIn, nameOf),
    phrases.length > 0 ? `With ${nameOf(standIn.ingredient)} it is ${join(phrases)}.` : "",
    sayGrade(standIn.poreGrade, nameOf(standIn.ingredient)),
    standIn.brings.length > 0 ? `It brings an allergen family: ${list(standIn.brings)}.` : "",
    standIn.takesAway.length > 0 ? `It leaves one out: ${list(standIn.takesAway)}.` : "",
    standIn.unknown.length > 0
      ? `Not known: ${join(standIn.unknown.map((figure) => FIGURE_WORDS[figure]))}.`
      : "",
  ]
    .filter((sentence) => sentence !== "")
    .join(" ");
}

function sayVerdict({ verdict, findings }: StandIn, nameOf: (id: string) => string): string {
  if (verdict === "orderable") return "";
  const weight = verdict === "refused" ? "refuses" : "cannot-judge";
  const why = findings
    .filter((each) => weightOf(each) === weight)
    .map((each) => sayFinding(each, nameOf));
  const lead =
    verdict === "refused"
      ? "At these shares the base could not be ordered."
      : "At these shares the base could not be judged.";
  return [lead, ...why].join(" ");
}

function sayFirmness({ firmness, yieldPa }: StandIn): string | undefined {
  if (!firmness || !yieldPa) return undefined;
  const change = yieldPa.to / yieldPa.from - 1;
  const classes =
    firmness.from === firmness.to ? `still ${firmness.to}` : `${firmness.to}, not ${firmness.from}`;
  if (yieldPa.to === yieldPa.from || Math.abs(change) < SAME_FIRMNESS) {
    return `as firm to within a tenth (${classes})`;
  }
  return `${change > 0 ? "firmer" : "softer"} (${classes})`;
}

function saySoftening(shift: Shift | undefined): string | undefined {
  if (!shift) return undefined;
  const change = shift.to - shift.from;
  if (Math.abs(change) < SAME_CELSIUS) return "steady to the same warmth";
  const to = `${shift.to.toFixed(1)} °C`;
  return `steady to ${to}, ${Math.abs(change).toFixed(1)} °C ${change > 0 ? "more" : "less"}`;
}

function sayGrade(shift: Shift | undefined, name: string): string {
  if (!shift) return "";
  const lead = `${name} stands at ${shift.to} on the pore scale`;
  return shift.from === shift.to
    ? `${lead}, as what is missing does.`
    : `${lead}; what is missing stands at ${shift.from}.`;
}

function sayThickness(shift: Shift | undefined): string | undefined {
  if (!shift) return undefined;
  const change = shift.to / shift.from - 1;
  if (Math.abs(change) < SAME_THICKNESS) return "as light to spread";
  return `${percent(change)} ${change > 0 ? "thicker" : "thinner"} in its oil`;
}

function sayOxygen(shift: StandIn["oxidation"]): string | undefined {
  if (!shift || shift.from === shift.to || shift.to === "cannot-judge") return undefined;
  return `taking up oxygen ${OXYGEN_WORDS[shift.to]}`;
}

function sayCost(shift: Shift | undefined): string | undefined {
  if (!shift || !(shift.from > 0)) return undefined;
  const change = shift.to / shift.from - 1;
  if (Math.abs(change) < SAME_COST) return "of the same cost";
  return `${percent(change)} ${change > 0 ? "dearer" : "cheaper"} in material`;
}

function percent(change: number): string {
  return `${Math.round(Math.abs(change) * 100)} %`;
}

function join(phrases: readonly string[]): string {
  if (phrases.length < 2) return phrases.join("");
  return `${phrases.slice(0, -1).join(", ")} and ${phrases.at(-1)}`;
}
