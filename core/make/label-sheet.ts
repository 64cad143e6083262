/**
 * Labels laid out on paper: as many as fit, upright or turned, with crop marks between them.
 */

export interface Paper {
  readonly widthMm: number;
  readonly heightMm: number;
}

/** A4 is ISO 216; Letter is 8.5 x 11 in (ANSI Y14.1). */
export const PAPERS = {
  a4: { widthMm: 210, heightMm: 297 },
  letter: { widthMm: 215.9, heightMm: 279.4 },
} as const satisfies Record<string, Paper>;

export type PaperId = keyof typeof PAPERS;

export interface SheetGrid {
  /** Labels are turned a quarter, because more fit so. */
  readonly isTurned: boolean;
  /** Upper left corners of the places on a sheet, row by row. */
  readonly places: readonly { readonly xMm: number; readonly yMm: number }[];
  /** Size of a place: the label as it lies on the paper. */
  readonly placeMm: Paper;
  readonly marks: readonly CropMark[];
}

export interface CropMark {
  readonly x1Mm: number;
  readonly y1Mm: number;
  readonly x2Mm: number;
  readonly y2Mm: number;
}

/** What common printers leave white, and room for the marks; own choice. */
const MARGIN_MM = 9;
const GAP_MM = 5;
const MARK_MM = 3;
const MARK_OFF_MM = 1;

/** The grid of one sheet; nothing when not even one label fits the paper. */
export function gridFor(label: Paper, paper: Paper): SheetGrid | undefined {
  const turned = { widthMm: label.heightMm, heightMm: label.widthMm };
  const [upright, lying] = [countsOf(label, paper), countsOf(turned, paper)];
  const isTurned = lying.columns * lying.rows > upright.columns * upright.rows;
  const placeMm = isTurned ? turned : label;
  const { columns, rows } = isTurned ? lying : upright;
  if (columns * rows === 0) return undefined;
  const at = (count: number, size: number, whole: number) => {
    const first = (whole - (count * size + (count - 1) * GAP_MM)) / 2;
    return Array.from({ length: count }, (_, place) => first + place * (size + GAP_MM));
  };
  const xs = at(columns, placeMm.widthMm, paper.widthMm);
  const ys = at(rows, placeMm.heightMm, paper.heightMm);
  const places = ys.flatMap((yMm) => xs.map((xMm) => ({ xMm, yMm })));
  return { isTurned, places, placeMm, marks: places.flatMap((place) => marksOf(place, placeMm)) };
}

function countsOf({ widthMm, heightMm }: Paper, paper: Paper) {
  const many = (whole: number, size: number) =>
    Math.max(0, Math.floor((whole - 2 * MARGIN_MM + GAP_MM) / (size + GAP_MM) + 1e-9));
  return { columns: many(paper.widthMm, widthMm), rows: many(paper.heightMm, heightMm) };
}

/** Two short lines at each corner, off the label by a millimetre so that no ink is cut through. */
function marksOf(
  { xMm, yMm }: { readonly xMm: number; readonly yMm: number },
  { widthMm, heightMm }: Paper,
): CropMark[] {
  const corners = [-1, 1].flatMap((right) => [-1, 1].map((down) => ({ right, down })));
  return corners.flatMap(({ right, down }) => {
    const x = right < 0 ? xMm : xMm + widthMm;
    const y = down < 0 ? yMm : yMm + heightMm;
    const [off, end] = [MARK_OFF_MM, MARK_OFF_MM + MARK_MM];
    return [
      { x1Mm: x + right * off, y1Mm: y, x2Mm: x + right * end, y2Mm: y },
      { x1Mm: x, y1Mm: y + down * off, x2Mm: x, y2Mm: y + down * end },
    ];
  });
}
