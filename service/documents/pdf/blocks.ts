/**
 * What a paper is built of: blocks that know how high they are before they are drawn, so that nothing is begun on a
 * page that has no room for it.
 */
import { breakLines } from "#core/make/label-type.ts";
import { LABEL_FACE } from "#data/library/label-font.ts";
import { type Canvas, MM, type Type, widthOf } from "./canvas.ts";
import { written } from "./letters.ts";

export interface Block {
  /** [pt] */
  readonly height: number;
  draw(canvas: Canvas, x: number, y: number): void;
  /** Where it may be broken when no page has room for all of it. */
  readonly parts?: readonly Block[];
}

export interface TextType extends Type {
  /** Height of a line, as a part of the size. */
  readonly line?: number;
  readonly isRight?: boolean;
}

export const BODY: TextType = { size: 9.25, line: 1.38 };
export const SMALL: TextType = { size: 8, line: 1.35 };
export const HEADING: TextType = { size: 11, line: 1.3, isBold: true };
const CAUTION: TextType = { size: 8.25, line: 1.32 };

/** Height of a line where nothing is said, as a part of the size. */
const LINE = 1.38;
/** Half of what the letters reach above the line less what they reach below it, as a part of the size. */
const DROP = 0.375;
/** Side of a square to tick. */
const TICK = 3.6 * MM;

/** A paragraph set into a width. */
export function text(words: string, width: number, type: TextType): Block {
  return linesOf(broken(written(words), width, type), width, type);
}

/** Lines by type, width and words: the sheets of a batch say nearly all of it again. */
const known = new Map<string, readonly string[]>();
/** More than a batch of many sheets says; own choice. */
const KNOWN_MOST = 3000;

/** Lines of words that were made writable, in a width [pt]. */
export function broken(
  words: string,
  width: number,
  { size, isBold = false }: TextType,
): readonly string[] {
  const key = `${size} ${isBold} ${width} ${words}`;
  const before = known.get(key);
  if (before) return before;
  const face = isBold ? LABEL_FACE.bold : LABEL_FACE.regular;
  const lines = breakLines(words, { sizeMm: size, widthMm: width }, face);
  if (known.size >= KNOWN_MOST) known.clear();
  known.set(key, lines);
  return lines;
}

/** Lines as they are broken already, one under the other. */
export function linesOf(lines: readonly string[], width: number, type: TextType): Block {
  const { size, line: high = LINE, isRight = false } = type;
  const each = size * high;
  return {
    height: lines.length * each,
    get parts() {
      return lines.map((words) => linesOf([words], width, type));
    },
    draw(canvas, x, y) {
      for (const [at, words] of lines.entries()) {
        const left = isRight ? x + width - widthOf(words, type) : x;
        canvas.words(words, left, y + (at + 0.5) * each + size * DROP, type);
      }
    },
  };
}

/** A paragraph that begins with bold words. */
export function led(lead: string, words: string, width: number, type: TextType): Block {
  const bold = { ...type, isBold: true };
  const leadLines = broken(written(lead), width, bold);
  const last = leadLines.at(-1) ?? "";
  const indentMm = widthOf(`${last} `, bold);
  const said = written(words);
  const [firstWord = ""] = said.split(" ");
  // A word that finds no room behind the lead begins a line of its own.
  if (indentMm + widthOf(firstWord, type) > width) {
    return stack([linesOf(leadLines, width, bold), text(words, width, type)]);
  }
  const room = { sizeMm: type.size, widthMm: width, indentMm };
  const [first = "", ...others] = breakLines(said, room, LABEL_FACE.regular);
  return stack([
    linesOf(leadLines.slice(0, -1), width, bold),
    beside([
      { x: 0, block: linesOf([last], width, bold) },
      { x: indentMm, block: linesOf([first], width - indentMm, type) },
    ]),
    linesOf(others, width, type),
  ]);
}

/** Blocks one under the other. */
export function stack(parts: readonly Block[]): Block {
  const shown = parts.filter(({ height }) => height > 0);
  return {
    height: shown.reduce((sum, { height }) => sum + height, 0),
    get parts() {
      return shown.flatMap((part) => part.parts ?? [part]);
    },
    draw(canvas, x, y) {
      let top = y;
      for (const part of shown) {
        part.draw(canvas, x, top);
        top += part.height;
      }
    },
  };
}

export interface Beside {
  readonly block: Block;
  /** From the left edge [pt] */
  readonly x: number;
}

/** Blocks side by side, from the same top. */
export function beside(blocks: readonly Beside[]): Block {
  return {
    height: Math.max(0, ...blocks.map(({ block }) => block.height)),
    draw(canvas, x, y) {
      for (const each of blocks) each.block.draw(canvas, x + each.x, y);
    },
  };
}

/** Nothing, so high [pt] */
export function space(height: number): Block {
  return { height, draw: () => undefined };
}

/** A line across, at its top. */
export function rule(width: number, weight: number, grey = 0): Block {
  return {
    height: weight,
    draw: (canvas, x, y) => canvas.line(x, y + weight / 2, x + width, y + weight / 2, weight, grey),
  };
}

/** A heavy bar and a word, so that nothing hangs on colour. */
export function caution(lead: string, words: string, width: number): Block {
  const inset = 2.2 * MM + 2.4;
  const inner = led(lead, words, width - inset, CAUTION);
  return {
    height: inner.height + MM,
    draw(canvas, x, y) {
      canvas.line(x + 1.2, y + MM, x + 1.2, y + MM + inner.height, 2.4);
      inner.draw(canvas, x + inset, y + MM);
    },
  };
}

/** A point of a list. */
export function listed(words: string, width: number): Block {
  const inset = 3.4 * MM;
  return stack([
    space(0.8 * MM),
    beside([
      { x: 0, block: text("•", inset, CAUTION) },
      { x: inset, block: text(words, width - inset, CAUTION) },
    ]),
  ]);
}

/** A double frame around a paragraph that must be seen first. */
export function framed(lead: string, words: string, width: number): Block {
  const [across, down] = [2.4 * MM, 1.2 * MM];
  const inner = led(lead, words, width - 2 * across, BODY);
  const height = inner.height + 2 * down;
  return {
    height: height + 2 * MM,
    draw(canvas, x, y) {
      canvas.frame(x + 0.4, y, width - 0.8, height, 0.8);
      canvas.frame(x + 2.2, y + 1.8, width - 4.4, height - 3.6, 0.8);
      inner.draw(canvas, x + across, y + down);
    },
  };
}

/** A square to tick, standing on the line of letters of this size. */
export function tick({ size, line: high = LINE }: TextType): Block {
  return {
    height: size * high,
    draw(canvas, x, y) {
      const foot = y + (size * high) / 2 + size * DROP + 0.4 * MM;
      canvas.frame(x + 0.5, foot - TICK, TICK, TICK, 0.9);
    },
  };
}

/** A place to write in: its name over a line, its unit at the end of it. */
export function blank(label: string, unit: string, width: number): Block {
  const name = text(label, width, SMALL);
  const room = 6 * MM;
  return {
    height: name.height + room,
    draw(canvas, x, y) {
      name.draw(canvas, x, y);
      const foot = y + name.height + room;
      canvas.line(x, foot, x + width, foot, 0.5);
      const end = written(unit);
      canvas.words(end, x + width - widthOf(end, SMALL) - MM, foot - 1.2 * MM, SMALL);
    },
  };
}

/** Places to write in, side by side, their lines at one height. */
export function blanks(
  all: readonly { readonly label: string; readonly unit: string }[],
  each: number,
  gap: number,
): Block {
  const made = all.map(({ label, unit }) => blank(label, unit, each));
  const height = Math.max(0, ...made.map((block) => block.height));
  return {
    height,
    draw(canvas, x, y) {
      for (const [at, block] of made.entries()) {
        block.draw(canvas, x + at * (each + gap), y + height - block.height);
      }
    },
  };
}
