/**
 * The labels of a batch as they will be printed: what is missing, how they look, and what was printed before.
 */
import { sayGap, stopsPrint } from "#core/make/label-gaps.ts";
import type { FactsInForce } from "#core/make/label-facts.ts";
import { PARTICULAR_NAMES } from "#core/make/label-market.ts";
import {
  type LabelPrint,
  PAPER_WORDS,
  type PaperKind,
  printedOf,
} from "../batches/label-prints.ts";
import {
  type LabelledJar,
  type LabelChoice,
  type LabelDesk,
  gapsOfAll,
  labelOfKind,
} from "../batches/labels.ts";
import { MONTHS_FROM_WORDS } from "../products/label-notes.ts";
import { drawLabel } from "../documents/label-drawing.ts";
import { labelMarket } from "#data/library/label-markets.ts";
import { capital } from "../words/capital.ts";
import { sayIn } from "../words/speak.ts";
import { momentIn } from "./maker-pages.ts";

export interface LabelsSay {
  readonly prints: readonly LabelPrint[];
  readonly paper: PaperKind;
  readonly isOwner: boolean;
  /** As typed, by place of the kind; the jars that have no label yet where nothing was typed. */
  readonly counts?: readonly string[];
  readonly because?: string;
  readonly fault?: string;
}

export function labelsPage(desk: LabelDesk, choice: LabelChoice, says: LabelsSay) {
  const { batch, bench, settings } = desk;
  const { market, size } = choice;
  const labels = desk.kinds.map((kind) => labelOfKind(desk, kind, choice));
  const gaps = gapsOfAll(labels);
  const when = momentIn(bench.owner);
  const several = desk.runs.length > 1;
  return {
    title: `Labels of batch ${batch.number}`,
    number: batch.number,
    fault: says.fault ?? "",
    because: says.because ?? "",
    markets: settings.markets.map(({ id }) => ({
      ...{ id, words: labelMarket(id)!.name, chosen: id === market.id },
    })),
    sizes: settings.sizes.map(({ id, name, widthMm, heightMm }) => ({
      ...{ id, chosen: id === size.id },
      words: `${name}, ${widthMm} × ${heightMm} mm`,
    })),
    papers: Object.entries(PAPER_WORDS).map(([id, words]) => ({
      ...{ id, words: capital(words), chosen: id === says.paper },
    })),
    stops: gaps.filter(stopsPrint).map(sayGap),
    missing: gaps.filter((gap) => !stopsPrint(gap)).map(sayGap),
    canPrint: !gaps.some(stopsPrint),
    kinds: labels.map(({ kind, label, fitted }, at) => {
      const printed = printedOf(says.prints, kind, choice);
      return {
        ...{ at, name: kindWords(kind, several) },
        count: says.counts?.[at] ?? String(Math.max(0, kind.quantity - printed)),
        jars: kind.quantity === 1 ? "one jar" : `${kind.quantity} jars`,
        printed,
        drawn: fitted ? drawLabel(fitted, size, batch.number) : (false as const),
        type: fitted ? fitted.xHeightMm.toFixed(2) : "",
        noCode: fitted !== undefined && fitted.code === undefined,
        endedBy: label.endedBy
          ? `The date is that of lot ${label.endedBy.code} of ${label.endedBy.ingredient}, which ends first.`
          : "",
        months: monthsWords(desk.runs[kind.run]!.facts),
        particulars: label.particulars.map(({ id, text }) => ({
          what: PARTICULAR_NAMES[id],
          text,
        })),
      };
    }),
    prints: says.prints.map(({ sequence, at, by, what, labels: of, voidBecause }) => ({
      ...{ sequence, by, what, voidBecause },
      when: when(at),
      stands: voidBecause.length === 0,
      labels: of
        .map(({ count, jarName, fillG }) => `${count} × ${jarName} ${fillG}\u00a0g`)
        .join(", "),
    })),
    sources: market.sources.map(({ about, citation, trust, ...rest }) => ({
      ...{ about, citation, trust, note: "note" in rest ? rest.note : "" },
    })),
    market: market.inSentence,
    defer: sayIn("en", "sheet.defer"),
    isOwner: says.isOwner,
  };
}

/** Whose months the date is worked out from; empty where nobody said any. */
function monthsWords(facts: FactsInForce): string {
  const { ownMonths, monthsFrom } = facts;
  const ofProduct = `as said of this product${monthsFrom ? `, ${MONTHS_FROM_WORDS[monthsFrom]}` : ""}`;
  const said = (of: "shelfLifeMonths" | "openMonths", jar: string) => {
    const whose = ownMonths.includes(of) ? ofProduct : "as said for the whole shop";
    return facts[of] === undefined ? [] : [`${facts[of]} ${jar}, ${whose}`];
  };
  const months = [...said("shelfLifeMonths", "closed"), ...said("openMonths", "opened")];
  return months.length === 0 ? "" : `Months it lasts: ${months.join("; ")}.`;
}

function kindWords({ run, jarName, fillG, product, base }: LabelledJar, several: boolean): string {
  const jar = `${jarName}, ${fillG}\u00a0g`;
  return several ? `Run ${run + 1}, ${product}, ${base}: ${jar}` : jar;
}
