/**
 * Ruled tables: rows that are never split, figures to the right, boxes to write in.
 */
import type { Tongue } from "../tongue.ts";
import { type Block, type TextType, broken, linesOf, stack, tick } from "./blocks.ts";
import { MM } from "./canvas.ts";
import { written } from "./letters.ts";

export interface Column {
  readonly head: string;
  /** [pt] */
  readonly width: number;
  readonly isRight?: boolean;
  /** Its cells are boxes to write in. */
  readonly isWritten?: boolean;
}

export interface CellLine {
  readonly words: string;
  readonly type: TextType;
}

/** Lines of a cell, or a square to tick. */
export type Cell = readonly CellLine[] | "tick";

export interface RowLook {
  readonly least: number;
  /** What is said of lines that a cell has no room for. */
  readonly more: (count: number) => string;
  /** Rules above and below [pt], black; a fine grey one below where nothing is said. */
  readonly above?: number;
  readonly below?: number;
}

/** Rows at least so high [pt], saying in the language of the paper what was left out. */
export function lookOf(least: number, say: Tongue["say"]): RowLook {
  return { least, more: (count) => say("sheet.more", { count }) };
}

const PAD = 1.6 * MM;
const PAD_DOWN = 0.7 * MM;
const HEAD: TextType = { size: 8, line: 1.25, isBold: true };
const FAINT = 0.54;
/** Lines of a cell, so that a row fits a page; what is left out is said. */
const LINES_MOST = 40;
const TICK_TYPE: TextType = { size: 10, line: 1.38 };

/** What is weighed or filled by: seen from a step away. */
export const TARGET: TextType = { size: 11, line: 1.3, isBold: true };

/** A cell that says one thing. */
export function saying(words: string, type: TextType): CellLine[] {
  return [{ words, type }];
}

/** Rows with their sum, which never stands alone at the top of a page. */
export function withSum(rows: readonly Block[], sum: Block): Block[] {
  const last = rows.at(-1);
  return last ? [...rows.slice(0, -1), stack([last, sum])] : [sum];
}

/** Widths that fill a whole: those given, and the rest shared by those that are 0. */
export function columnsOf(whole: number, columns: readonly Column[]): Column[] {
  const given = columns.reduce((sum, { width }) => sum + width, 0);
  const open = columns.filter(({ width }) => width === 0).length;
  return columns.map((each) =>
    each.width === 0 ? { ...each, width: (whole - given) / open } : each,
  );
}

/** Heads of columns, over a rule; they stand at its foot whatever their lines. */
export function headRow(columns: readonly Column[]): Block {
  const cells = columns.map(({ head }) => [{ words: head, type: HEAD }]);
  const row = contents(columns, cells, "foot", String);
  const width = widthOfAll(columns);
  return {
    height: row.height + 2 * PAD_DOWN,
    draw(canvas, x, y) {
      row.draw(canvas, x, y + PAD_DOWN);
      const foot = y + row.height + 2 * PAD_DOWN - 0.5;
      canvas.line(x, foot, x + width, foot, 1);
    },
  };
}

/** A row of cells, as high as the highest of them needs. */
export function row(columns: readonly Column[], cells: readonly Cell[], look: RowLook): Block {
  const inner = contents(columns, cells, "middle", look.more);
  const height = Math.max(look.least, inner.height + 2 * PAD_DOWN);
  const width = widthOfAll(columns);
  return {
    height,
    draw(canvas, x, y) {
      inner.draw(canvas, x, y + (height - inner.height) / 2);
      if (look.above) canvas.line(x, y, x + width, y, look.above);
      const { below = 0 } = look;
      canvas.line(x, y + height, x + width, y + height, below || 0.5, below ? 0 : FAINT);
      let left = x;
      for (const { width: wide, isWritten } of columns) {
        if (isWritten) canvas.frame(left, y, wide, height, 0.5);
        left += wide;
      }
    },
  };
}

/** A row of words across all columns, kept with the row after it. */
export function groupRow(words: string, width: number, next: Block, type: TextType): Block {
  const lines = linesOf(broken(written(words), width - 2 * PAD, type), width, type);
  const height = lines.height + 0.8 * MM;
  return {
    height: height + next.height,
    draw(canvas, x, y) {
      lines.draw(canvas, x + PAD, y + 0.6 * MM);
      canvas.line(x, y + height, x + width, y + height, 0.5);
      next.draw(canvas, x, y + height);
    },
  };
}

function contents(
  columns: readonly Column[],
  cells: readonly Cell[],
  stand: "middle" | "foot",
  moreWords: RowLook["more"],
): Block {
  const made = columns.map((column, at) => cellBlock(column, cells[at] ?? [], moreWords));
  const height = Math.max(...made.map((block) => block.height));
  return {
    height,
    draw(canvas, x, y) {
      let left = x;
      for (const [at, block] of made.entries()) {
        const { width } = columns[at]!;
        const spare = height - block.height;
        const inset = cells[at] === "tick" ? 0 : PAD;
        block.draw(canvas, left + inset, y + (stand === "foot" ? spare : spare / 2));
        left += width;
      }
    },
  };
}

function cellBlock(
  { width, isRight = false }: Column,
  cell: Cell,
  moreWords: RowLook["more"],
): Block {
  if (cell === "tick") return tick(TICK_TYPE);
  const inner = width - 2 * PAD;
  const lines = cell.flatMap(({ words, type }) =>
    broken(written(words), inner, type).map((each) => ({ words: each, type })),
  );
  const fit = lines.length > LINES_MOST ? lines.slice(0, LINES_MOST - 1) : lines;
  const more = lines.length - fit.length;
  const last = lines[0] && { words: moreWords(more), type: lines[0].type };
  const shown = more > 0 && last ? [...fit, last] : fit;
  const blocks = shown.map(({ words, type }) => linesOf([words], inner, { ...type, isRight }));
  return {
    height: blocks.reduce((sum, block) => sum + block.height, 0),
    draw(canvas, x, y) {
      let top = y;
      for (const block of blocks) {
        block.draw(canvas, x, top);
        top += block.height;
      }
    },
  };
}

function widthOfAll(columns: readonly Column[]): number {
  return columns.reduce((sum, { width }) => sum + width, 0);
}
