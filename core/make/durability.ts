/**
 * How long a filled jar is said to last, as its label must say it: a date, an open jar with months, or nothing.
 *
 * How long it keeps, closed and opened, is the maker's own finding (tests, the safety assessment); nothing here works
 * a shelf life out. What is worked out: the date never lies later than the maker's months after making, nor later
 * than the earliest best-before of the lots in it; and up to 30 months ask for a date, more for the open jar (Reg.
 * (EC) 1223/2009 Art. 19(1)(c)).
 */
import { type LabelGap, labelGap } from "./label-gaps.ts";

export interface LotInJar {
  readonly ingredient: string;
  /** The supplier's lot code. */
  readonly code: string;
  /** ISO day; null where the shelf has none. */
  readonly bestBefore: string | null;
}

export interface DurabilityRule {
  /** Whether the market asks for any. */
  readonly isRequired: boolean;
  /** Jars that last longer carry the open jar instead of a date [months]; null: always a date. */
  readonly openJarAboveMonths: number | null;
}

export interface DurabilityInput {
  /** Day of making, ISO. */
  readonly madeOnISO: string;
  /** What the maker found it to last, closed [months]; missing while the maker has not said. */
  readonly shelfLifeMonths?: number | undefined;
  /** What the maker found it to last once opened [months] */
  readonly openMonths?: number | undefined;
  readonly lots: readonly LotInJar[];
  /** Names of ingredients of which no lot is known. */
  readonly lotless: readonly string[];
}

export type Durability =
  | { readonly kind: "before-end-of"; readonly dayISO: string }
  | { readonly kind: "open-jar"; readonly months: number };

export interface DurabilityFound {
  /** Missing when nothing can or need be printed. */
  readonly durability?: Durability;
  /** The lot that ends first, when it and not the maker's months set the date. */
  readonly endedBy?: LotInJar;
  readonly gaps: readonly LabelGap[];
}

/** What a label says of durability, and what stands in its way. */
export function durabilityOf(input: DurabilityInput, rule: DurabilityRule): DurabilityFound {
  const { madeOnISO, lots, shelfLifeMonths, openMonths } = input;
  const dated = lots.flatMap((lot) =>
    lot.bestBefore === null ? [] : [{ ...lot, end: lot.bestBefore }],
  );
  const past = dated.filter(({ end }) => end < madeOnISO);
  const pastGaps = past.map(({ ingredient, code, end }) =>
    labelGap("label.lot.past-its-date", { subject: ingredient, lot: code, date: end }),
  );
  if (shelfLifeMonths === undefined) {
    if (!rule.isRequired) return { gaps: pastGaps };
    return { gaps: [labelGap("label.shelf-life.missing", {}), ...pastGaps] };
  }
  const gaps: LabelGap[] = [
    ...pastGaps,
    ...lots
      .filter(({ bestBefore }) => bestBefore === null)
      .map(({ ingredient, code }) =>
        labelGap("label.lot.undated", { subject: ingredient, lot: code }),
      ),
    ...input.lotless.map((subject) => labelGap("label.lot.unknown", { subject })),
  ];
  const assessed = addMonths(madeOnISO, shelfLifeMonths);
  const first = dated.reduce<(typeof dated)[number] | undefined>(
    (earliest, lot) => (earliest && earliest.end <= lot.end ? earliest : lot),
    undefined,
  );
  const isEndedByLot = first !== undefined && first.end < assessed;
  const dayISO = isEndedByLot ? first.end : assessed;
  const { openJarAboveMonths } = rule;
  if (openJarAboveMonths === null || dayISO <= addMonths(madeOnISO, openJarAboveMonths)) {
    const ended = isEndedByLot
      ? { endedBy: { ingredient: first.ingredient, code: first.code, bestBefore: first.end } }
      : {};
    return { durability: { kind: "before-end-of", dayISO }, ...ended, gaps };
  }
  if (openMonths !== undefined)
    return { durability: { kind: "open-jar", months: openMonths }, gaps };
  return { gaps: [...gaps, labelGap("label.open-months.missing", {})] };
}

/**
 * The same day some months on; the month's last day where it has no such day.
 * @param dayISO "2026-11-25"
 */
export function addMonths(dayISO: string, months: number): string {
  const [year, month, day] = dayISO.split("-").map(Number) as [number, number, number];
  const whole = year * 12 + (month - 1) + months;
  const [toYear, toMonth] = [Math.floor(whole / 12), (whole % 12) + 1];
  const last = new Date(Date.UTC(toYear, toMonth, 0)).getUTCDate();
  const two = (value: number) => String(value).padStart(2, "0");
  return `${String(toYear).padStart(4, "0")}-${two(toMonth)}-${two(Math.min(day, last))}`;
}
