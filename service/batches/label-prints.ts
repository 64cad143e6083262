/**
 * Prints of labels as the batch's record keeps them: how many there are of each kind, and which of them are void
 * because the jar has become another since.
 */
import { sayGap, stopsPrint } from "#core/make/label-gaps.ts";
import { PAPERS, type PaperId, gridFor } from "#core/make/label-sheet.ts";
import type { Shop } from "../ports.ts";
import { Refusal } from "../problem.ts";
import { NOTE_LONGEST, lengthFault } from "../typed/length.ts";
import { type Hand } from "./close.ts";
import {
  type LabelledJar,
  type LabelChoice,
  type LabelDesk,
  type LabelOfKind,
  choiceOf,
  gapsOfAll,
  isSameJar,
  labelOfKind,
} from "./labels.ts";
import type { BodyOf } from "./record-shapes.ts";
import { readRecord, tellRecord } from "./record.ts";

export type PaperKind = PaperId | "label";

export const PAPER_WORDS: Readonly<Record<PaperKind, string>> = {
  a4: "A4",
  letter: "Letter",
  label: "one label a page",
};

/** More than this in one print is a slip of the pen; own choice. */
const LABELS_MOST = 1000;

type Printed = BodyOf<"labels-printed">;

export interface LabelPrint extends Printed {
  /** Place in the record. */
  readonly sequence: number;
  readonly at: number;
  readonly by: string;
  /** What has changed since, a sentence each; empty while the print stands. */
  readonly voidBecause: readonly string[];
}

export interface CountOfKind {
  readonly kind: LabelledJar;
  readonly count: number;
}

/** All prints of labels of a batch, the latest first. */
export async function labelPrints(shop: Shop, desk: LabelDesk): Promise<LabelPrint[]> {
  const { entries } = await readRecord(shop, desk.batch);
  return entries
    .flatMap((entry) => (entry.kind === "labels-printed" ? [entry] : []))
    .map(({ sequence, at, by, body }) => ({
      ...{ ...body, sequence, at, by },
      voidBecause: changesSince(desk, body),
    }))
    .reverse();
}

/** Labels that were printed of a kind and still stand. */
export function printedOf(
  prints: readonly LabelPrint[],
  kind: LabelledJar,
  { market, size }: LabelChoice,
): number {
  return prints
    .filter((print) => print.voidBecause.length === 0)
    .filter((print) => print.market === market.id && print.size === size.id)
    .flatMap(({ labels }) => labels)
    .filter((each) => isSameJar(each, kind))
    .reduce((sum, { count }) => sum + count, 0);
}

/**
 * Write down that labels are printed, before they are shown.
 * @param because the owner's reason to print past what is missing; empty when none was given
 * @returns place of the print in the record
 * @throws Refusal make.label.refused when none or too many are asked for, or something stands in the way
 */
export async function printLabels(
  shop: Shop,
  desk: LabelDesk,
  choice: LabelChoice,
  asked: {
    readonly counts: readonly CountOfKind[];
    readonly paper: PaperKind;
    readonly because: string;
    readonly hand: Hand & { readonly isOwner: boolean };
  },
): Promise<number> {
  const { paper, because, hand } = asked;
  const counts = asked.counts.filter(({ count }) => count > 0);
  const sum = counts.reduce((total, { count }) => total + count, 0);
  if (sum === 0 || sum > LABELS_MOST) {
    throw refused(`Ask for 1 to ${LABELS_MOST} labels at once; you asked for ${sum}.`);
  }
  const { widthMm, heightMm } = choice.size;
  if (paper !== "label" && !gridFor(choice.size, PAPERS[paper])) {
    const words = `A label of ${widthMm} × ${heightMm} mm is larger than the paper leaves room for.`;
    throw refused(`${words} Choose “one label a page”.`);
  }
  const labels = counts.map(({ kind }) => labelOfKind(desk, kind, choice));
  const what = whatWords(choice, paper);
  const gaps = gapsOfAll(labels);
  if (gaps.some(stopsPrint)) throw refused(gaps.filter(stopsPrint).map(sayGap).join(" "));
  const missing = gaps.map(sayGap);
  if (missing.length > 0) checkReason(hand.isOwner, because);
  const body: Printed = {
    ...{ what, market: choice.market.id, size: choice.size.id, paper },
    labels: labels.map((label, at) => ({
      ...{ run: label.kind.run, jarName: label.kind.jarName, fillG: label.kind.fillG },
      count: counts[at]!.count,
      ...saidOn(label),
    })),
  };
  const by = hand.name;
  const override = { kind: "label-override", by, body: { what, missing, because } } as const;
  const printed = { kind: "labels-printed", by, body } as const;
  const told = missing.length > 0 ? [override, printed] : [printed];
  return await tellRecord(shop, desk.batch, ...told);
}

/** Reason and right to print past what is missing. */
function checkReason(isOwner: boolean, because: string): void {
  if (!isOwner) {
    throw refused(
      "Something is missing, and only the owner can print all the same. Ask them to look.",
    );
  }
  if (because === "") {
    throw refused(
      "Write why it is printed although something is missing; the reason is kept in the record.",
    );
  }
  const long = lengthFault("the reason", because, NOTE_LONGEST);
  if (long) throw refused(long);
}

function refused(sentence: string): Refusal {
  return new Refusal("make.label.refused", `${sentence} Nothing was printed.`);
}

function whatWords({ market, size }: LabelChoice, paper: PaperKind): string {
  const { name, widthMm, heightMm } = size;
  return `“${name}”, ${widthMm} × ${heightMm} mm, ${market.name}, ${PAPER_WORDS[paper]}`;
}

function saidOn({ label }: LabelOfKind) {
  const textOf = (id: string) => label.particulars.find((each) => each.id === id)?.text ?? "";
  return { ingredients: textOf("ingredients"), durability: textOf("durability") };
}

/** Why a print must not be used any more. */
function changesSince(desk: LabelDesk, { market, size, labels }: Printed): string[] {
  const { markets, sizes } = desk.settings;
  const isKept = markets.some(({ id }) => id === market) && sizes.some(({ id }) => id === size);
  if (!isKept) return ["Its market or its size was taken out of the label settings."];
  const choice = choiceOf(desk, market, size);
  const changes = labels.flatMap((label) => {
    const { jarName, fillG, ingredients, durability } = label;
    const kind = desk.kinds.find((each) => isSameJar(each, label));
    if (!kind) return [`The batch holds no ${jarName} of ${fillG} g any more.`];
    const now = saidOn(labelOfKind(desk, kind, choice));
    return [
      ...(now.ingredients === ingredients
        ? []
        : ["The blend has changed: the list is another now."]),
      ...(now.durability === durability
        ? []
        : [
            `It said “${durability || "nothing"}” and must say “${now.durability || "nothing"}” now.`,
          ]),
    ];
  });
  return [...new Set(changes)];
}
