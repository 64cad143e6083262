/**
 * Days as they are typed.
 */
import { isDay } from "#core/day.ts";
import { quoted } from "../typed/fault.ts";

/** How a table writes its days when not year first. */
export const DAY_ORDERS = ["year-first", "day-first", "month-first"] as const;
export type DayOrder = (typeof DAY_ORDERS)[number];

/** Notices look this far ahead. */
export const NEAR_DAYS = 60;
/** No fat keeps this long (own choice): a year typed wrong is meant to be caught. */
const YEARS_AHEAD_MOST = 20;
const YEARS_BACK_MOST = 20;

export type ReadDay = { readonly day: string } | { readonly fault: string };

/**
 * Read a day; year first is always understood.
 * @param today ISO day, so that a year far off is caught
 */
export function readDay(typed: string, today: string, order: DayOrder = "year-first"): ReadDay {
  const text = typed.trim();
  const parts = partsOf(text, order);
  if (!parts) {
    return { fault: `${quoted(text)} is not a day: write year-month-day, such as ${today}.` };
  }
  const [year, month, day] = parts;
  const iso = [String(year).padStart(4, "0"), two(month), two(day)].join("-");
  if (!isDay(iso)) {
    return { fault: `There is no day ${quoted(text)} in the calendar.` };
  }
  const thisYear = Number(today.slice(0, 4));
  if (year > thisYear + YEARS_AHEAD_MOST || year < thisYear - YEARS_BACK_MOST) {
    return { fault: `The year ${year} is far off. Check ${quoted(text)}.` };
  }
  return { day: iso };
}

const two = (n: number) => String(n).padStart(2, "0");

function partsOf(text: string, order: DayOrder): readonly [number, number, number] | undefined {
  const iso = /^(\d{4})[-/.](\d{1,2})[-/.](\d{1,2})$/.exec(text);
  if (iso) return [Number(iso[1]), Number(iso[2]), Number(iso[3])];
  const other = /^(\d{1,2})[-/.](\d{1,2})[-/.](\d{4})$/.exec(text);
  if (!other || order === "year-first") return undefined;
  const [first, second, year] = [Number(other[1]), Number(other[2]), Number(other[3])];
  return order === "day-first" ? [year, second, first] : [year, first, second];
}
