/**
 * The head of a sheet: what is made, for which batch and day, and the codes that lead a phone and a scanner to it.
 */
import type { DrawnCode } from "../codes.ts";
import type { SheetModel, SheetsModel } from "../batch-sheets.ts";
import type { Tongue } from "../tongue.ts";
import {
  BODY,
  type Block,
  SMALL,
  type TextType,
  beside,
  rule,
  space,
  stack,
  text,
} from "./blocks.ts";
import { Canvas, MM } from "./canvas.ts";
import type { Drawings } from "./file.ts";

const TITLE: TextType = { size: 16, line: 1.15, isBold: true };
/** As on the printed page; the paper round them is their quiet zone. */
const SQUARE = 16 * MM;
const BARS_MODULE = 0.3 * MM;
const GAP = 8 * MM;
const NAME = 23 * MM;

/** The head of a sheet, [pt] wide as the paper between its margins. */
export function masthead(sheet: SheetModel, say: Tongue["say"], width: number): Block {
  const { codes } = sheet;
  const square = codes ? SQUARE + GAP : 0;
  const right = Math.min(0.4 * width, 74 * MM);
  const left = width - right - square - GAP;
  const names = stack([
    text(sheet.kind, left, { size: 9, line: 1.4 }),
    text(sheet.productName, left, TITLE),
    text(sheet.baseName, left, BODY),
    ...(codes ? [space(1.4 * MM), drawn(CODE_NAMES.bars, codes.bars.height * BARS_MODULE)] : []),
  ]);
  const facts = stack([
    fact(say("sheet.batch"), sheet.batchNumber, right, TITLE),
    fact(say("sheet.madeOn"), sheet.madeOn, right, BODY),
    fact(say("sheet.by"), sheet.makerName, right, BODY),
  ]);
  return stack([
    beside([
      { x: 0, block: names },
      { x: left + GAP, block: facts },
      ...(codes ? [{ x: width - SQUARE, block: drawn(CODE_NAMES.square, SQUARE) }] : []),
    ]),
    space(2 * MM),
    rule(width, 1.6),
  ]);
}

/** A name with what it stands for beside it, on one line of letters. */
export function fact(what: string, value: string, width: number, type: TextType): Block {
  const name = text(what, NAME, SMALL);
  const words = text(value, width - NAME, type);
  const drop = (type.size * (type.line ?? 1)) / 2 + type.size * 0.375;
  const own = (SMALL.size * SMALL.line!) / 2 + SMALL.size * 0.375;
  return beside([
    { x: 0, block: stack([space(Math.max(0, drop - own)), name]) },
    { x: NAME, block: words },
  ]);
}

/** Names of the codes among the drawings of a paper. */
const CODE_NAMES = { bars: "Bars", square: "Square" } as const;

/** The codes of a batch, drawn once for all its sheets. */
export function codeDrawings({ codes }: SheetsModel): Drawings {
  if (!codes) return new Map();
  return new Map([
    [CODE_NAMES.bars, codeDrawing(codes.bars, BARS_MODULE)],
    [CODE_NAMES.square, codeDrawing(codes.square, SQUARE / codes.square.width)],
  ]);
}

function codeDrawing({ path, width, height }: DrawnCode, module: number): Canvas {
  const canvas = new Canvas(width * module, height * module);
  canvas.outline(path, 0, 0, module);
  return canvas;
}

function drawn(name: string, height: number): Block {
  return {
    height,
    draw: (canvas, x, y) => canvas.drawing(name, [1, 0, 0, 1, x, canvas.height - y - height]),
  };
}
