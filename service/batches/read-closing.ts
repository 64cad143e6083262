/**
 * The closing form, read: what went in and what came out, or a sentence for everything that stands against it.
 */
import { FIRMNESS_CLASSES } from "#core/judge/firmness.ts";
import type { WeighLine } from "#core/make/work-order.ts";
import type { LotRow } from "../storage/stock.ts";
import { hasDecimals, numberOf } from "../typed/figure.ts";
import { NOTE_LONGEST, lengthFault } from "../typed/length.ts";
import { WHY_LONGEST } from "../typed/why.ts";
import { capital } from "../words/capital.ts";
import { readAmount } from "./amounts.ts";
import type { ClosingFields, LineFields, RunFields } from "./closing-fields.ts";
import { type BatchClosing, type ClosedLine, type ClosedRun, actualMgOf } from "./closing-shape.ts";
import type { OrderWithQuote } from "./groups.ts";
import { type BatchRun, linesOf } from "./sheets.ts";

export interface ClosingGround {
  readonly runs: readonly BatchRun[];
  /** Orders that stand in the batch. */
  readonly members: readonly OrderWithQuote[];
  /** Every lot with something left. */
  readonly lots: readonly LotRow[];
  /** Day of making, ISO. */
  readonly today: string;
}

/** A weight further off than this part of its target is taken for a slip of the pen until somebody says why. */
const FAR_OFF = 0.25;
const MG_MOST = 2_000_000_000;

export function readClosingForm(
  fields: ClosingFields,
  ground: ClosingGround,
): { readonly closing: BatchClosing } | { readonly faults: readonly string[] } {
  const faults: string[] = [];
  const lots = new Map(ground.lots.map((lot) => [lot.id, lot]));
  const runs = ground.runs.map((run, at): ClosedRun => {
    const typed = fields.runs[at]!;
    const where = ground.runs.length > 1 ? `Run ${at + 1}, ` : "";
    const before = faults.length;
    const lines = linesOf(run).map((line, l) =>
      readLine(line, typed.lines[l]!, { lots, today: ground.today, where, faults }),
    );
    const read = { lines, ...readYield(typed, where, faults) };
    // What is not a figure yet adds up to nothing.
    if (faults.length === before) {
      checkFilling(read, filledOf(ground, fields, at), where, faults);
    }
    return read;
  });
  faults.push(...overdrawn(runs, lots));
  const long = lengthFault("the note", fields.note, NOTE_LONGEST);
  if (long) faults.push(long);
  if (faults.length > 0) {
    return { faults: faults.map(capital) };
  }
  const shortOrders = ground.members
    .filter(({ order }) => !fields.filled.includes(order.id))
    .map(({ order }) => order.reference);
  return { closing: { runs, shortOrders, note: fields.note, added: [] } };
}

function filledOf({ members }: ClosingGround, { filled }: ClosingFields, run: number) {
  return members.filter(({ order }) => (order.batchRun ?? 0) === run && filled.includes(order.id));
}

interface LineGround {
  readonly lots: ReadonlyMap<string, LotRow>;
  readonly today: string;
  readonly where: string;
  readonly faults: string[];
}

function readLine(line: WeighLine, typed: LineFields, ground: LineGround): ClosedLine {
  const { lots, today, faults } = ground;
  const what = `${ground.where}${line.name}`;
  const before = faults.length;
  const long = lengthFault(`the reason for ${what}`, typed.why, WHY_LONGEST);
  if (long) faults.push(long);
  const sums = new Map<string, number>();
  for (const { lot, grams } of typed.portions) {
    if (grams === "" && lot === "") continue;
    const mg = readAmount(grams, { what, unit: "g", most: MG_MOST }, faults);
    const known = lots.get(lot);
    if (lot !== "" && known?.ingredientId !== line.ingredient) {
      faults.push(`${what}: the lot chosen has nothing left on the shelf. Choose another.`);
    }
    if (mg > 0) sums.set(lot, (sums.get(lot) ?? 0) + mg);
  }
  const portions = [...sums].map(([lot, usedMg]) => ({
    lotId: lot === "" ? null : lot,
    code: lots.get(lot)?.code ?? "",
    usedMg,
  }));
  const read = {
    ...{ ingredient: line.ingredient, name: line.name, targetMg: line.targetMg },
    ...{ portions, why: typed.why },
  };
  if (faults.length === before && typed.why === "") {
    const because = portions.map(({ lotId }) => doubtOf(lotId && lots.get(lotId), today));
    const doubt = because.find((each) => each !== "") ?? farOff(read);
    if (doubt) faults.push(`${what}: ${doubt} If that is so, write down why.`);
  }
  return read;
}

/** Why a lot should not have been used; empty when nothing is against it. */
function doubtOf(lot: LotRow | null | undefined | "", today: string): string {
  if (!lot) return "no lot is chosen, so nobody could trace it.";
  if (lot.blockedBecause !== null) return `lot ${lot.code} is blocked (${lot.blockedBecause}).`;
  if (lot.bestBefore !== null && lot.bestBefore < today) {
    return `lot ${lot.code} is past its best-before of ${lot.bestBefore}.`;
  }
  return "";
}

function farOff(line: ClosedLine): string | undefined {
  const actualMg = actualMgOf(line);
  if (Math.abs(actualMg - line.targetMg) <= FAR_OFF * line.targetMg) return undefined;
  return `${line.targetMg / 1000} g was to be weighed and ${actualMg / 1000} g is written.`;
}

function readYield(typed: RunFields, where: string, faults: string[]): Omit<ClosedRun, "lines"> {
  const jars = /^\d{1,5}$/.test(typed.jars) ? Number(typed.jars) : Number.NaN;
  if (Number.isNaN(jars)) {
    faults.push(`${where}write how many jars were filled, a whole number such as 12.`);
  }
  const amount = (value: string, what: string, unit: "g" | "ml", most: number) =>
    value === "" ? null : readAmount(value, { what: `${where}${what}`, unit, most }, faults);
  const ul = amount(typed.cupMl, "what the cup holds", "ml", 1_000_000);
  const massMg = amount(typed.cupG, "what fills the cup", "g", 1_000_000);
  if ((ul === null) !== (massMg === null)) {
    faults.push(`${where}for the density write both what the cup holds and what fills it.`);
  }
  return {
    jarsFilled: jars,
    leftMg: amount(typed.left, "what was left over", "g", MG_MOST),
    texture: FIRMNESS_CLASSES.find((each) => each === typed.texture) ?? null,
    celsius: readCelsius(typed.celsius, where, faults),
    cup: ul && massMg ? { ul, massMg } : null,
  };
}

function readCelsius(typed: string, where: string, faults: string[]): number | null {
  if (typed === "") return null;
  const value = numberOf(typed);
  if (value >= -10 && value <= 60 && hasDecimals(value, 1)) return value;
  faults.push(`${where}write the temperature in °C, from -10 to 60, such as 21.5.`);
  return null;
}

/** Jars that are called filled hold no more than was weighed in, and there are as many as were filled. */
function checkFilling(
  run: ClosedRun,
  filled: readonly OrderWithQuote[],
  where: string,
  faults: string[],
): void {
  const jars = filled.reduce((sum, { quote }) => sum + quote.quantity, 0);
  const fillMg = filled.reduce(
    (sum, { quote }) => sum + quote.quantity * quote.jar.fillG * 1000,
    0,
  );
  const weighedMg = run.lines.reduce((sum, line) => sum + actualMgOf(line), 0);
  if (jars > run.jarsFilled) {
    faults.push(
      `${where}${run.jarsFilled} jars were filled, and the orders ticked below take ${jars}. ` +
        "Untick an order that came out short: it will wait to be made again.",
    );
  } else if (fillMg + (run.leftMg ?? 0) > weighedMg && weighedMg > 0) {
    faults.push(
      `${where}the jars and what was left come to ${(fillMg + (run.leftMg ?? 0)) / 1000} g, more than the ` +
        `${weighedMg / 1000} g that went in. Check the weights, or untick an order that came out short.`,
    );
  }
}

/** Lots that hold less than all runs together took from them. */
function overdrawn(runs: readonly ClosedRun[], lots: ReadonlyMap<string, LotRow>): string[] {
  const used = usedByLot(runs);
  return [...used].flatMap(([lotId, usedMg]) => {
    const lot = lots.get(lotId);
    if (!lot || usedMg <= lot.onHandMg) return [];
    const name = runs
      .flatMap(({ lines }) => lines)
      .find(({ ingredient }) => ingredient === lot.ingredientId)!.name;
    return [
      `Lot ${lot.code} of ${name} holds ${lot.onHandMg / 1000} g, and ${usedMg / 1000} g is written: ` +
        `${(usedMg - lot.onHandMg) / 1000} g is missing. Take the rest from another lot, or count this one on the shelf first.`,
    ];
  });
}

/** What all runs together took from each lot [mg] */
export function usedByLot(runs: readonly ClosedRun[]): Map<string, number> {
  const used = new Map<string, number>();
  for (const { lotId, usedMg } of runs.flatMap(({ lines }) => lines).flatMap((l) => l.portions)) {
    if (lotId !== null) used.set(lotId, (used.get(lotId) ?? 0) + usedMg);
  }
  return used;
}
