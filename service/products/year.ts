/**
 * The year of a product's bases: in which months, and to which zones, no blend of a base stands the parcel.
 *
 * A product is published in one season and sold in all of them. What passes a higher limit passes a lower one, so for
 * each base a few searches find where the year shuts.
 */
import { composeBlend } from "#core/compose/compose.ts";
import { type Base, type Product, startingChoice } from "#core/compose/product.ts";
import { nearestOrderable } from "#core/order/nearest/nearest.ts";
import { groundOf, ruleChecker } from "#core/order/rule-check.ts";
import type { Rules } from "#core/judge/verdict.ts";
import { MONTHS } from "../days.ts";
import type { Desk } from "./desk.ts";
import { type ParcelZone, seasonAt } from "./season.ts";

/** A month of a zone whose parcel asks more of a jar than the product's own rules. */
interface Parcel {
  readonly zone: ParcelZone;
  /** 0 to 11 */
  readonly month: number;
  readonly rules: Rules;
  /** [C] */
  readonly least: number;
}

/** What the parcels to some zones are too warm for. */
export interface ShutMonths {
  readonly base: string;
  readonly name: string;
  readonly zones: readonly string[];
  /** 0 to 11 */
  readonly months: readonly number[];
}

/** The day of a month that a season is asked for; the year does not matter. */
export function midMonth(month: number): string {
  return `2000-${String(month + 1).padStart(2, "0")}-15`;
}

/**
 * Months in which a base as it is written does not stand the parcel while another blend of it does.
 * @param shut months in which none does (`yearShut`)
 */
export function ownShut(product: Product, desk: Desk, shut: readonly ShutMonths[]): ShutMonths[] {
  const parcels = parcelsOf(product, desk);
  return product.bases.flatMap((base) => {
    const made = composeBlend(product, startingChoice(base), desk.ingredientOf);
    if (!("blend" in made)) return [];
    const passes = (rules: Rules) =>
      ruleChecker(groundOf({ ...product, rules }, desk.law))(made.blend).passes;
    // What its own rules refuse all year is told elsewhere.
    if (!passes(product.rules)) return [];
    const toldOf = ({ zone, month }: Parcel) =>
      shut.some(
        (line) =>
          line.base === base.id && line.zones.includes(zone.name) && line.months.includes(month),
      );
    return gathered(
      base,
      shutParcels(parcels, passes).filter((each) => !toldOf(each)),
    );
  });
}

/** Months in which no blend of a base stands the parcel, however a customer moves it. */
export function yearShut(product: Product, desk: Desk): ShutMonths[] {
  const parcels = parcelsOf(product, desk);
  return product.bases.flatMap((base) => {
    const choice = startingChoice(base);
    const opens = (rules: Rules) =>
      nearestOrderable({ ...product, rules }, choice, desk).kind === "found";
    return gathered(base, shutParcels(parcels, opens));
  });
}

/** "In July and August no blend of Soft shea stands a parcel to “Down south”." */
export function sayShut(line: ShutMonths): string {
  return `In ${monthWords(line)} no blend of ${line.name} stands a parcel to ${zoneWords(line)}.`;
}

/** The same of the blend as it is written. */
export function sayOwnShut(line: ShutMonths): string {
  return (
    `In ${monthWords(line)} ${line.name} as you wrote it does not stand a parcel to ` +
    `${zoneWords(line)}: customers must move it first.`
  );
}

/** What a maker ticks off: changes with what is shut, so that nobody agrees to something else. */
export function shutKey(shut: readonly ShutMonths[]): string {
  return shut
    .map(({ base, zones, months }) => [base, months.join("."), ...zones].join(" "))
    .join("; ");
}

function parcelsOf(product: Product, { particulars }: Desk): Parcel[] {
  const { zones = [] } = particulars;
  return zones.flatMap((zone) =>
    MONTHS.flatMap((_, month): Parcel[] => {
      const { rules, parcel } = seasonAt(product, particulars, midMonth(month), zone.id);
      return parcel ? [{ zone, month, rules, least: rules.softensAboveLeastCelsius! }] : [];
    }),
  );
}

/** The parcels that a test fails for; it is asked of as few limits as tell all of them apart. */
function shutParcels(parcels: readonly Parcel[], passes: (rules: Rules) => boolean): Parcel[] {
  const limits = new Map(parcels.map(({ least, rules }) => [least, rules]));
  const leasts = [...limits.keys()].sort((one, other) => one - other);
  // Of the limits, the first that is shut: usually none is, so the highest is asked first.
  let [open, shut] = [-1, leasts.length];
  let asked = leasts.length - 1;
  while (shut - open > 1) {
    if (passes(limits.get(leasts[asked]!)!)) open = asked;
    else shut = asked;
    asked = (open + shut) >> 1;
  }
  return parcels.filter(({ least }) => least >= (leasts[shut] ?? Infinity));
}

/** Zones that are shut in the same months stand in one line. */
function gathered({ id, name }: Base, shut: readonly Parcel[]): ShutMonths[] {
  const lines = new Map<string, { zones: string[]; months: number[] }>();
  for (const zone of new Map(shut.map((each) => [each.zone.id, each.zone])).values()) {
    const months = shut
      .filter((each) => each.zone.id === zone.id)
      .map(({ month }) => month)
      .sort((one, other) => one - other);
    const line = lines.get(months.join()) ?? { zones: [], months };
    line.zones.push(zone.name);
    lines.set(months.join(), line);
  }
  return [...lines.values()].map((line) => ({ base: id, name, ...line }));
}

function monthWords({ months }: ShutMonths): string {
  if (months.length === MONTHS.length) return "every month";
  return listed(runsOf(months).map(runWords));
}

/** Months that follow each other, together. */
function runsOf(months: readonly number[]): number[][] {
  const runs: number[][] = [];
  for (const month of months) {
    if (runs.at(-1)?.at(-1) === month - 1) runs.at(-1)!.push(month);
    else runs.push([month]);
  }
  return runs.flatMap((run) => (run.length > 2 ? [run] : run.map((month) => [month])));
}

function runWords(run: readonly number[]): string {
  const [first, last] = [MONTHS[run[0]!]!, MONTHS[run.at(-1)!]!];
  return run.length > 1 ? `${first} to ${last}` : first;
}

function zoneWords({ zones }: ShutMonths): string {
  return listed(zones.map((zone) => `“${zone}”`));
}

function listed(words: readonly string[]): string {
  if (words.length < 2) return words.join();
  return `${words.slice(0, -1).join(", ")} and ${words.at(-1)}`;
}
