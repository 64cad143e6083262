/**
 * Labels as a template draws them: letters, symbols and code at their places [mm], one or many on paper.
 */
import type { FittedLabel, PlacedSymbol } from "#core/make/label-fit.ts";
import { PAPERS, type Paper, gridFor } from "#core/make/label-sheet.ts";
import type { PaperKind } from "../batches/label-prints.ts";
import { qrCode } from "./codes.ts";

/** Outlines in a square of 1: an hourglass, and a jar with its lid off (Reg. (EC) 1223/2009 Annex VII, own drawing). */
const OUTLINES: Readonly<Record<PlacedSymbol["symbol"], string>> = {
  hourglass: "M.2 .1h.6v.1L.56 .5 .8 .8v.1H.2V.8L.44 .5 .2 .2z",
  "open-jar":
    "M.12 .5h.76v.42H.12zM.19 .57v.28h.62V.57zM.14 .34 .8 .1l.05 .13L.19 .47zM.27 .36l.44-.16.02 .05-.44 .16z",
};

export type DrawnLabel = ReturnType<typeof drawLabel>;

/** @param batchNumber what the code says */
export function drawLabel(fitted: FittedLabel, { widthMm, heightMm }: Paper, batchNumber: string) {
  const { code } = fitted;
  const drawn = code && qrCode(batchNumber);
  return {
    width: widthMm,
    height: heightMm,
    lines: fitted.lines.map(({ text, xMm, yMm, sizeMm, isBold }) => ({
      ...{ text, x: mm(xMm), y: mm(yMm), size: mm(sizeMm) },
      weight: isBold ? 600 : 400,
    })),
    symbols: fitted.symbols.map(({ symbol, xMm, yMm, sizeMm }) => ({
      path: OUTLINES[symbol],
      ...{ x: mm(xMm), y: mm(yMm), scale: mm(sizeMm) },
    })),
    code: code && {
      path: drawn!.path,
      ...{ x: mm(code.xMm), y: mm(code.yMm), scale: String(code.sizeMm / drawn!.width) },
    },
  };
}

export interface CountedLabel {
  readonly drawn: DrawnLabel;
  readonly count: number;
}

/**
 * Labels on as many sheets as they need, one kind after the other.
 * @returns nothing when the paper is too small for one
 */
export function labelSheets(labels: readonly CountedLabel[], paper: PaperKind) {
  const { width: widthMm, height: heightMm } = labels[0]!.drawn;
  const label = { widthMm, heightMm };
  const size: Paper = paper === "label" ? label : PAPERS[paper];
  const grid =
    paper === "label"
      ? { isTurned: false, places: [{ xMm: 0, yMm: 0 }], placeMm: label, marks: [] }
      : gridFor(label, size);
  if (!grid) return undefined;
  const all = labels.flatMap(({ count }, at) => Array.from({ length: count }, () => at));
  const perSheet = grid.places.length;
  return Array.from({ length: Math.ceil(all.length / perSheet) }, (_, sheet) => {
    const here = all.slice(sheet * perSheet, (sheet + 1) * perSheet);
    return {
      number: sheet + 1,
      width: size.widthMm,
      height: size.heightMm,
      labels: here.map((at, place) => {
        const { xMm, yMm } = grid.places[place]!;
        const turn = grid.isTurned ? ` translate(${mm(grid.placeMm.widthMm)} 0) rotate(90)` : "";
        const { isTurned } = grid;
        return { at, xMm, yMm, isTurned, transform: `translate(${mm(xMm)} ${mm(yMm)})${turn}` };
      }),
      marks: grid.marks.slice(0, here.length * (grid.marks.length / perSheet)).map((mark) => ({
        ...mark,
        path: `M${mm(mark.x1Mm)} ${mm(mark.y1Mm)}L${mm(mark.x2Mm)} ${mm(mark.y2Mm)}`,
      })),
    };
  });
}

function mm(length: number): string {
  return String(Math.round(length * 1000) / 1000);
}
