/**
 * The fields of the form for a test jar, and what each number may be.
 */
import { textOf, textsOf } from "../typed/text.ts";
import { CONE_ANGLE_GREATEST_DEGREES, CONE_ANGLE_LEAST_DEGREES } from "#core/judge/penetration.ts";
import { COLDEST_C, WARMEST_C } from "#core/judge/softening.ts";
import { hasDecimals, numberOf, saidOf } from "../typed/figure.ts";

/** Rows for a blend that is none of the shop's bases. */
export const PART_ROWS = 8;

const FIELDS = [
  ...(["base", "netG", "jarMl", "daysRested", "celsius", "felt"] as const),
  ...(["coneDepth", "coneWeight", "coneAngle", "lot", "note"] as const),
  /** Number of the batch the jar was filled from; empty when it was none. */
  "batch" as const,
];
type Field = (typeof FIELDS)[number];

export interface JarFields extends Readonly<Record<Field, string>> {
  readonly parts: readonly { readonly ingredient: string; readonly percent: string }[];
}

/** Choice of the field "felt" when a cone was used. */
export const BY_CONE = "cone";

/** The fields as they were typed. */
export function fieldsOf(form: FormData): JarFields {
  const ingredients = textsOf(form, "ingredient");
  const percents = textsOf(form, "percent");
  const typed = Object.fromEntries(FIELDS.map((name) => [name, textOf(form, name)]));
  return {
    ...(typed as Record<Field, string>),
    parts: Array.from({ length: Math.max(PART_ROWS, ingredients.length) }, (_, at) => ({
      ingredient: ingredients[at] ?? "",
      percent: percents[at] ?? "",
    })),
  };
}

/** A form nobody has written on. */
export const EMPTY_FIELDS: JarFields = {
  ...fieldsOf(new FormData()),
  daysRested: "7",
  coneAngle: "40",
};

interface Ask {
  readonly what: string;
  readonly unit: string;
  readonly least: number;
  readonly greatest: number;
  readonly decimals: number;
}

/** Numbers on the form; each is checked when it is asked for. */
const NUMBERS = {
  netG: { what: "The net weight", unit: "g", least: 1, greatest: 10_000, decimals: 3 },
  jarMl: { what: "What the jar holds", unit: "ml", least: 1, greatest: 10_000, decimals: 3 },
  daysRested: { what: "The rest", unit: "days", least: 0, greatest: 365, decimals: 0 },
  celsius: {
    what: "The temperature",
    unit: "°C",
    least: COLDEST_C,
    greatest: WARMEST_C,
    decimals: 1,
  },
  coneDepth: { what: "The depth", unit: "tenths of a mm", least: 1, greatest: 1000, decimals: 1 },
  coneWeight: { what: "The weight of the cone", unit: "g", least: 1, greatest: 2000, decimals: 2 },
  coneAngle: {
    what: "The angle of the cone",
    unit: "degrees",
    least: CONE_ANGLE_LEAST_DEGREES,
    greatest: CONE_ANGLE_GREATEST_DEGREES,
    decimals: 1,
  },
} as const satisfies Partial<Record<Field, Ask>>;

export type NumberField = keyof typeof NUMBERS;

/**
 * A number in a field; a comma may stand for the point.
 * @param faults takes a sentence when it is none
 * @returns the number, or NaN with a fault
 */
export function readNumber(fields: JarFields, name: NumberField, faults: string[]): number {
  const typed = fields[name];
  const { what, unit, least, greatest, decimals } = NUMBERS[name];
  const value = numberOf(typed);
  if (value >= least && value <= greatest && hasDecimals(value, decimals)) return value;
  const kind = decimals === 0 ? "a whole number" : "a number";
  faults.push(`${what} ${saidOf(typed)}: write ${kind} from ${least} to ${greatest} ${unit}.`);
  return Number.NaN;
}
