/**
 * The lots of a run and what they make of its blend: judged, and the correction that is proposed or was accepted.
 */
import type { Change } from "#core/order/nearest/nearest.ts";
import { SEVERAL_MUST_GIVE, sayChanges, sayConflict } from "#core/order/nearest-words.ts";
import { lotsToKeep, proposalKey } from "../batches/correction-accept.ts";
import type { ChosenLots, LineLots, OtherLot } from "../batches/correction-choices.ts";
import type { Correction } from "../batches/correction.ts";
import type { CostChange } from "../batches/correction-cost.ts";
import type { KeptFigures } from "../batches/correction-shape.ts";
import {
  namesFrom,
  sayAgainst,
  sayFaults,
  sayFirmness,
  saySoftens,
  saySolidFat,
} from "../batches/correction-words.ts";
import { type BatchRun, linesOf } from "../batches/sheets.ts";
import { helpers } from "../documents/helpers.ts";
import type { NameOf } from "../documents/tongue.ts";
import type { BatchRow } from "../storage/batches.ts";
import type { ShopRow } from "../storage/shops.ts";
import { lotFields, refusedWords } from "./maker-batch-correction-lots.ts";
import { gramsIn, momentIn } from "./maker-pages.ts";

export interface CorrectionShown {
  readonly batch: BatchRow;
  readonly isStarted: boolean;
  readonly several: boolean;
  readonly correction: Correction;
  readonly lines: readonly LineLots[];
  readonly refused: ChosenLots["refused"];
  readonly others: readonly OtherLot[];
  /** For the owner, where there is a proposal. */
  readonly cost: CostChange | undefined;
  /** Why nothing was stored just now. */
  readonly fault: string;
}

export function correctionPage(shop: ShopRow, shown: CorrectionShown) {
  const { batch, correction, isStarted } = shown;
  const { at, run, ground } = correction;
  const nameOf = ground ? namesFrom(ground.ingredientOf) : (id: string) => id;
  const href = `/maker/batches/${batch.number}/correction/${at + 1}`;
  const isOpen = batch.state === "open" && !isStarted;
  return {
    title: `Lots of batch ${batch.number}`,
    number: batch.number,
    heading: `The lots of batch ${batch.number}${shown.several ? `, run ${at + 1}` : ""}`,
    blend: `${run.workOrder.productName}, ${run.workOrder.baseName}`,
    href,
    fault: shown.fault,
    started: batch.state === "open" && isStarted,
    kept: run.correction ? keptModel(shop, run, isOpen) : (false as const),
    answer: run.correction ? (false as const) : answerModel(shop, shown, nameOf),
    lots: run.correction ? [] : lotFields(shop, shown.lines, correction),
    refused: shown.refused.map(({ name, standing }) => refusedWords(shop, name, standing)),
    others: shown.others.map(({ name, lot, lotIds }) => ({
      name,
      code: lot.code,
      href: `${href}?${new URLSearchParams(lotIds.map((id) => ["lot", id])).toString()}`,
    })),
  };
}

function keptModel(shop: ShopRow, run: BatchRun, canTakeBack: boolean) {
  const kept = run.correction!;
  return {
    when: momentIn(shop)(kept.at),
    by: kept.by,
    because: kept.because,
    canTakeBack,
    shares: shareRows(shop, kept.issued, run),
    figures: figureRows([
      ["As ordered", kept.ordered],
      ["Corrected", kept.corrected],
    ]),
    label: labelModel(kept.ordered, kept.corrected),
  };
}

function answerModel(shop: ShopRow, shown: CorrectionShown, nameOf: NameOf) {
  const { answer, ground } = shown.correction;
  const plain = {
    ...{ mark: "", sentences: [] as string[], todo: [] as string[], urgent: true },
    ...{ figures: false as const, proposal: false as const, none: false as const },
  };
  switch (answer.kind) {
    case "not-asked":
      return {
        ...plain,
        urgent: false,
        mark: "Nothing was promised",
        sentences: ["No order waits for this run, so there is no promise to hold its lots to."],
      };
    case "no-certificate":
      return {
        ...plain,
        urgent: false,
        mark: "Cannot judge these lots",
        sentences: [
          "None of them has a certificate here, so how they differ from the library’s figures is not known. " +
            "The blend stands as it was ordered.",
        ],
        todo: [
          "Ask the supplier for the lot’s certificate of analysis: fatty acids, triacylglycerols or a solid fat curve.",
          "Write its figures down on the lot’s page; then look here again.",
          "Or choose a lot below that has one.",
        ],
      };
    case "cannot-judge":
      return {
        ...plain,
        mark: "Cannot judge these lots",
        sentences: sayFaults(answer, nameOf),
        todo: ["Until then the blend stands as it was ordered; nothing is changed."],
      };
    case "holds":
      return {
        ...plain,
        urgent: false,
        mark: "These lots keep the promise",
        sentences: ["Nothing needs to be changed."],
        todo: chosenWords(shown.correction),
        figures: figureRows([
          ["As quoted", answer.library],
          ["With these lots", answer.lots],
        ]),
      };
    case "none":
      return {
        ...plain,
        mark: "These lots leave the promise, and no shift of shares restores it",
        sentences: sayAgainst(answer.lots, nameOf),
        figures: figureRows([
          ["As quoted", answer.library],
          ["With these lots", answer.lots],
        ]),
        none: {
          conflicts: conflictWords(answer, ground!.product, nameOf),
          otherOil: oilWords(answer.otherOil(), nameOf),
          orders: ground!.orders.map(({ order }) => order.reference),
        },
      };
    case "no-sheet":
      return {
        ...plain,
        mark: "These lots leave the promise",
        sentences: [
          ...sayAgainst(answer.shift.lots, nameOf),
          `Shares that would restore it (${sayChanges(answer.shift.changes, nameOf)}) cannot be made here.`,
          answer.because,
        ],
        todo: ["Choose another lot below, or change scale or vessel in the shop’s settings."],
      };
    case "shift":
      return {
        ...plain,
        mark: "These lots leave the promise",
        sentences: sayAgainst(answer.lots, nameOf),
        figures: figureRows([
          ["As quoted", answer.library],
          ["With these lots", answer.lots],
          ["Corrected", answer.corrected],
        ]),
        proposal: {
          says: sayChanges(answer.changes, nameOf),
          moved: helpers.percent(Math.round(answer.moved)),
          shares: shareRows(shop, shown.correction.run, answer.sheet),
          label: labelModel(answer.lots, answer.corrected),
          cost: costWords(shop, shown.cost),
          short: shortWords(shop, shown.correction),
          key: proposalKey(answer, lotsToKeep(shown.correction)),
          lotIds: [...shown.correction.chosen.values()].map(({ id }) => id),
          canAccept: shown.batch.state === "open" && !shown.isStarted,
        },
      };
  }
}

/** A choice that needs no other shares is kept by whoever weighs, not by the sheet. */
function chosenWords({ chosen }: Correction): string[] {
  if (chosen.size === 0) return [];
  const codes = [...chosen.values()].map(({ code }) => code).join(", ");
  return [
    `Take lot ${codes} at the bench, and write it over the lot that the work order suggests.`,
  ];
}

type ProductNames = NonNullable<Correction["ground"]>["product"];

function conflictWords(
  { conflicts }: Extract<Correction["answer"], { kind: "none" }>,
  { places }: ProductNames,
  nameOf: NameOf,
): string[] {
  const placeOrName = (id: string) => places.find((place) => place.id === id)?.name ?? nameOf(id);
  const found = conflicts().map((conflict) => sayConflict(conflict, placeOrName));
  return found.length > 0 ? found : [SEVERAL_MUST_GIVE];
}

function oilWords(changes: readonly Change[] | undefined, nameOf: NameOf): string {
  return changes ? sayChanges(changes, nameOf) : "";
}

function shareRows(
  shop: ShopRow,
  before: Pick<BatchRun, "workOrder" | "loads">,
  after: Pick<BatchRun, "workOrder" | "loads">,
) {
  const grams = gramsIn(shop);
  const now = new Map(linesOf(after).map((line) => [line.ingredient, line]));
  return linesOf(before).map(({ ingredient, name, share, targetMg }) => {
    const line = now.get(ingredient)!; // the same set of ingredients
    const step = line.share - share;
    return {
      name,
      from: helpers.percent(share),
      to: helpers.percent(line.share),
      step: step === 0 ? "as it was" : `${step > 0 ? "+" : "−"}${helpers.percent(Math.abs(step))}`,
      changed: step !== 0,
      fromMass: grams(targetMg),
      toMass: grams(line.targetMg),
    };
  });
}

/** Rows of figures, a column a blend. */
function figureRows(columns: readonly (readonly [string, KeptFigures])[]) {
  const celsius = columns[0]![1].firmness.celsius;
  const row = (what: string, say: (figures: KeptFigures) => string) => ({
    what,
    cells: columns.map(([head, figures]) => ({ head, value: say(figures) })),
  });
  return {
    heads: columns.map(([head]) => head),
    rows: [
      row("Firmness", sayFirmness),
      row("Softens above", (figures) => saySoftens(figures).replace(/^softens above /, "")),
      row(`Solid fat at ${celsius}\u00a0°C`, saySolidFat),
      row("Pore rating, highest", ({ poreHighest }) =>
        poreHighest === undefined ? "none rated" : String(poreHighest),
      ),
    ],
  };
}

function labelModel(before: KeptFigures, after: KeptFigures) {
  return { before: before.label, after: after.label, moves: before.label !== after.label };
}

function costWords({ currency, currencyExponent, locale }: ShopRow, cost: CostChange | undefined) {
  if (!cost) return "";
  if ("unknown" in cost) {
    return `What it does to the cost of the material cannot be said: there is no cost for ${cost.unknown.join(", ")}.`;
  }
  const money = (minor: number) =>
    helpers.money(minor, { code: currency, exponent: currencyExponent }, locale);
  const { beforeMinor, afterMinor } = cost;
  const step = afterMinor - beforeMinor;
  const words =
    step === 0 ? "the same" : `${money(Math.abs(step))} ${step > 0 ? "dearer" : "cheaper"}`;
  return `Material of the run: ${money(beforeMinor)} before, ${money(afterMinor)} after, ${words}.`;
}

function shortWords(shop: ShopRow, { lots }: Correction): string[] {
  const grams = gramsIn(shop);
  return lots.lines
    .filter(({ shortMg, portions }) => shortMg > 0 && portions.length > 0)
    .map(({ name, shortMg }) => `${grams(shortMg)} of ${name}`);
}
