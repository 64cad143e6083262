/**
 * One lot: what is left of it, every movement, where it went, and what can be done about it.
 */
import type { Ingredient } from "#core/ingredient.ts";
import { WHOLE } from "#core/blend.ts";
import { meltOf } from "#core/judge/melt.ts";
import { solidFatPercent } from "#core/judge/solid-fat.ts";
import { helpers } from "../documents/helpers.ts";
import { sayMass } from "../shelf/amount.ts";
import { certificateOf, ingredientOfLot } from "../shelf/certificate.ts";
import { type Fault } from "../typed/fault.ts";
import type { LotRow, LotUse } from "../storage/lots.ts";
import type { LedgerLine } from "../storage/stock.ts";
import { countWords } from "../words/count-words.ts";
import { hrefOf, lotHref } from "./maker-shelf.ts";
import {
  type Said,
  STATES,
  dateSentence,
  faultLinks,
  fieldModels,
  sayDay,
  stateOfLot,
} from "./maker-shelf-words.ts";

export const LEDGER_MOST = 100;
export const STOCK_FIELDS = [
  ...(["counted", "countNote", "wasted", "wasteNote", "because"] as const),
];
export type StockFields = Readonly<Record<(typeof STOCK_FIELDS)[number], string>>;

export interface LotSays {
  readonly fields: StockFields;
  readonly faults: readonly Fault[];
  /** Whether the lot moved or was saved while the page was open. */
  readonly overtaken: boolean;
}

const MOVES: Readonly<Record<LedgerLine["why"], string>> = {
  received: "Received",
  batch: "Into batch",
  count: "Counted",
  waste: "Wasted",
  undone: "Undone",
};

export function lotPage(
  said: Said & { readonly when: (seconds: number) => string },
  lot: LotRow,
  ingredient: Ingredient,
  history: { readonly ledger: readonly LedgerLine[]; readonly uses: readonly LotUse[] },
  { fields, faults, overtaken }: LotSays,
) {
  const { locale, today, when } = said;
  const state = stateOfLot(lot, today);
  const dated = lot.onHandMg > 0 ? lot.bestBefore : null;
  const last = history.ledger[0];
  return {
    title: `Lot ${lot.code}`,
    code: lot.code,
    ingredient: ingredient.name,
    ingredientHref: hrefOf(lot.ingredientId),
    href: lotHref(lot.id),
    revision: lot.revision,
    last: last?.id ?? 0,
    overtaken,
    faults: faultLinks(faults),
    fields: fieldModels(fields, faults),
    putAway: lot.archivedAt !== null,
    blocked: lot.blockedBecause ?? "",
    onHand: lot.onHandMg === 0 ? "Nothing" : sayMass(lot.onHandMg, locale),
    received: sayMass(lot.receivedMg, locale),
    dateMark: STATES[state].mark,
    keeps: dated === null ? "" : dateSentence(dated, said),
    facts: factsOf(lot, said),
    certificate: certificateCurve(lot, ingredient),
    certificateWords: certificateWords(lot),
    ledger: ledgerLines(lot, history.ledger.slice(0, LEDGER_MOST), locale, when),
    moreMoves: history.ledger.length > LEDGER_MOST,
    undo: undoWords(last, locale),
    uses: history.uses.map(({ number, usedMg, issuedAt }) => ({
      number,
      href: `/maker/batches/${number}`,
      used: sayMass(usedMg, locale),
      when: when(issuedAt),
    })),
    awayWords:
      lot.onHandMg === 0
        ? "It is used up. Put away, it no longer shows among the lots on hand; its history stays."
        : `${sayMass(lot.onHandMg, locale)} is still in it, and will not be suggested or counted.`,
  };
}

function factsOf(lot: LotRow, said: Said) {
  const cost = lot.costMinor;
  const facts: [string, string][] = [
    ["Supplier", lot.supplier],
    ["Received on", sayDay(lot.receivedOn, said)],
    ["Best before", sayDay(lot.bestBefore, said)],
    ["Cost", cost === null ? "not told" : helpers.money(cost, said.currency, said.locale)],
    ["Papers and notes", lot.note],
  ];
  return facts.filter(([, value]) => value !== "").map(([what, value]) => ({ what, value }));
}

/** Amounts after each movement are reckoned back from what is on hand now. */
function ledgerLines(
  { onHandMg }: LotRow,
  ledger: readonly LedgerLine[],
  locale: string,
  when: (seconds: number) => string,
) {
  let left = onHandMg;
  return ledger.map(({ at, deltaMg, why, note, person, batchNumber }) => {
    const after = sayMass(left, locale);
    left -= deltaMg;
    return {
      when: when(at),
      what: MOVES[why],
      batch: batchNumber ?? "",
      batchHref: batchNumber === null ? "" : `/maker/batches/${batchNumber}`,
      note,
      moved: `${deltaMg > 0 ? "+" : deltaMg < 0 ? "−" : ""}${sayMass(Math.abs(deltaMg), locale)}`,
      after,
      who: person ?? "–",
    };
  });
}

/** What was weighed into a batch is put right in the batch; an undone movement is not undone again. */
export function mayUndo(last: LedgerLine | undefined): last is LedgerLine {
  return last !== undefined && ["received", "count", "waste"].includes(last.why);
}

function undoWords(last: LedgerLine | undefined, locale: string): string {
  if (!mayUndo(last)) return "";
  const moved = sayMass(Math.abs(last.deltaMg), locale);
  return `Undo the last: ${MOVES[last.why].toLowerCase()}, ${moved}`;
}

const SHOWN_C = [10, 20, 25, 30, 35];

function certificateCurve(lot: LotRow, ingredient: Ingredient) {
  if (lot.certificate === null) return [];
  const own = ingredientOfLot(lot, ingredient);
  const solids = (each: Ingredient, celsius: number) => {
    const melt = meltOf({ parts: [{ ingredient: each, share: WHOLE }] });
    return melt ? `${solidFatPercent(melt, "settled", celsius).toFixed(0)} %` : "not known";
  };
  return SHOWN_C.map((celsius) => ({
    at: `${celsius} °C`,
    lot: solids(own, celsius),
    library: solids(ingredient, celsius),
  }));
}

function certificateWords(lot: LotRow): string {
  const { fattyAcids, triacylglycerols, solidFatCurve } = certificateOf(lot) ?? {};
  const tables = [
    ...(fattyAcids ? [countWords(Object.keys(fattyAcids).length, "fatty acid")] : []),
    ...(triacylglycerols
      ? [countWords(Object.keys(triacylglycerols).length, "triacylglycerol")]
      : []),
    ...(solidFatCurve ? [`solid fat at ${countWords(solidFatCurve.length, "temperature")}`] : []),
  ];
  return `The supplier’s paper gives ${tables.join(", ")}. A batch with this lot in it is judged by these figures.`;
}
