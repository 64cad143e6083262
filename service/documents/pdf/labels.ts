/**
 * Printed labels as a PDF, at the size of a label or on sheets: the same letters at the same places as on the page,
 * each kind drawn once.
 */
import { PAPERS } from "#core/make/label-sheet.ts";
import type { PaperKind } from "../../batches/label-prints.ts";
import { Refusal } from "../../problem.ts";
import { type CountedLabel, type DrawnLabel, labelSheets } from "../label-drawing.ts";
import { Canvas, MM } from "./canvas.ts";
import type { Drawings } from "./file.ts";
import { isWritten, written } from "./letters.ts";

const MARK = 0.1 * MM;
/** Where the foot of a sheet stands, as on the page [mm] */
const FOOT = { xMm: 9, aboveEdgeMm: 4.5, sizeMm: 2.4 } as const;

/**
 * Labels on as many pages as they need.
 * @param foot stands on sheets, not on labels
 * @throws Refusal make.label.refused when a label has letters the font lacks: on a label none may be another
 */
export function drawLabels(
  labels: readonly CountedLabel[],
  paper: PaperKind,
  foot: string,
): { readonly pages: Canvas[]; readonly drawings: Drawings } {
  const sheets = labelSheets(labels, paper);
  if (!sheets) throw new Error("labels were printed on a paper too small for them");
  const drawings = new Map(labels.map(({ drawn }, at) => [nameOf(at), drawLabel(drawn)]));
  const pages = sheets.map((sheet) => {
    const [width, height] = [sheet.width * MM, sheet.height * MM];
    const page = new Canvas(width, height);
    for (const { at, xMm, yMm, isTurned } of sheet.labels) {
      const top = height - yMm * MM;
      const lower = top - labels[at]!.drawn.height * MM;
      const [x, y] = [xMm * MM, isTurned ? top : lower];
      page.drawing(nameOf(at), isTurned ? [0, -1, 1, 0, x, y] : [1, 0, 0, 1, x, y]);
    }
    for (const { x1Mm, y1Mm, x2Mm, y2Mm } of sheet.marks) {
      page.line(x1Mm * MM, y1Mm * MM, x2Mm * MM, y2Mm * MM, MARK);
    }
    if (paper !== "label") {
      const y = (PAPERS[paper].heightMm - FOOT.aboveEdgeMm) * MM;
      page.words(written(foot), FOOT.xMm * MM, y, { size: FOOT.sizeMm * MM });
    }
    return page;
  });
  return { pages, drawings };
}

function nameOf(at: number): string {
  return `L${at}`;
}

function drawLabel({ width, height, lines, symbols, code }: DrawnLabel): Canvas {
  const strange = lines.find(({ text }) => !isWritten(text));
  if (strange) {
    throw new Refusal(
      "make.label.refused",
      `The PDF has no letters for “${strange.text}”, and on a label no letter may be another. ` +
        "The print is kept: open it as a page and print it from there.",
    );
  }
  const canvas = new Canvas(width * MM, height * MM);
  for (const { text, x, y, size, weight } of lines) {
    const type = { size: Number(size) * MM, isBold: weight === 600 };
    canvas.words(text, Number(x) * MM, Number(y) * MM, type);
  }
  for (const { path, x, y, scale } of symbols) {
    canvas.outline(path, Number(x) * MM, Number(y) * MM, Number(scale) * MM);
  }
  if (code) {
    canvas.outline(code.path, Number(code.x) * MM, Number(code.y) * MM, Number(code.scale) * MM);
  }
  return canvas;
}
