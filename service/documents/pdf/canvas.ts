/**
 * One page being drawn, in points from its upper left corner. What is drawn is kept as the operators of a PDF
 * (ISO 32000-1, 8 and 9).
 */
import { lengthMm } from "#core/make/label-type.ts";
import { LABEL_FACE } from "#data/library/label-font.ts";
import { UNWRITTEN, unwrittenIn } from "./letters.ts";
import { figure, outlineOf } from "./path.ts";

/** Points in a millimetre. */
export const MM = 72 / 25.4;

export interface Type {
  /** [pt] */
  readonly size: number;
  readonly isBold?: boolean;
  /** 0 is black, 1 white. */
  readonly grey?: number;
}

/** Names of the fonts in the resources of a page. */
export const FONT_NAMES = { regular: "R", bold: "B" } as const;

/** The one letter of the label's font that WinAnsi lacks, at a place that WinAnsi leaves free. */
export const EXTRA_LETTERS: Readonly<Record<string, { readonly code: number; name: string }>> = {
  ı: { code: 0x81, name: "dotlessi" },
};

/** Width of words that were made writable [pt] */
export function widthOf(words: string, { size, isBold = false }: Type): number {
  return lengthMm(words, size, isBold ? LABEL_FACE.bold : LABEL_FACE.regular);
}

export class Canvas {
  readonly width: number;
  readonly height: number;
  /** Characters drawn as an empty box. */
  unwritten = 0;
  readonly #out: string[] = [];

  /** @param width and height [pt] */
  constructor(width: number, height: number) {
    this.width = width;
    this.height = height;
  }

  /** @param y of the line the letters stand on */
  words(words: string, x: number, y: number, type: Type): void {
    if (words === "") return;
    if (!words.includes(UNWRITTEN)) return this.#letters(words, x, y, type);
    const { size } = type;
    const wide = widthOf(UNWRITTEN, type);
    this.unwritten += unwrittenIn(words);
    let at = x;
    for (const [place, piece] of words.split(UNWRITTEN).entries()) {
      if (place > 0) {
        this.frame(at + wide * 0.15, y - size * 0.68, wide * 0.7, size * 0.68, 0.5);
        at += wide;
      }
      if (piece !== "") this.#letters(piece, at, y, type);
      at += widthOf(piece, type);
    }
  }

  line(x1: number, y1: number, x2: number, y2: number, weight: number, grey = 0): void {
    const [from, to] = [this.#at(x1, y1), this.#at(x2, y2)];
    this.#out.push(`${figure(grey)} G ${figure(weight)} w ${from} m ${to} l S`);
  }

  /** An empty frame. */
  frame(x: number, y: number, width: number, height: number, weight: number): void {
    const corner = this.#at(x, y + height);
    this.#out.push(`0 G ${figure(weight)} w ${corner} ${figure(width)} ${figure(height)} re S`);
  }

  /** An outline filled with ink. @param scale points to a unit of the path */
  outline(path: string, x: number, y: number, scale: number): void {
    const size = scale.toFixed(6);
    this.#out.push(`q 0 g ${size} 0 0 -${size} ${this.#at(x, y)} cm ${outlineOf(path)} f* Q`);
  }

  /** Another drawing, set in by its name in the resources. @param matrix as a PDF writes it */
  drawing(name: string, matrix: readonly number[]): void {
    this.#out.push(`q ${matrix.map(figure).join(" ")} cm /${name} Do Q`);
  }

  content(): string {
    return this.#out.join("\n");
  }

  #letters(words: string, x: number, y: number, { size, isBold = false, grey = 0 }: Type): void {
    const font = `/${isBold ? FONT_NAMES.bold : FONT_NAMES.regular} ${figure(size)} Tf`;
    const where = `${this.#at(x, y)} Td`;
    this.#out.push(`BT ${figure(grey)} g ${font} ${where} (${lettersOf(words)}) Tj ET`);
  }

  #at(x: number, y: number): string {
    return `${figure(x)} ${figure(this.height - y)}`;
  }
}

/** cp1252, where it is not Latin-1. */
const WIN_ANSI = new Map(
  Array.from("€\0‚ƒ„…†‡ˆ‰Š‹Œ\0Ž\0\0‘’“”•–—˜™š›œ\0žŸ", (letter, at) => [letter, 0x80 + at]),
);

/** Place of a letter in the font of a PDF. @throws when it has none */
export function codeOf(letter: string): number {
  const code = EXTRA_LETTERS[letter]?.code ?? WIN_ANSI.get(letter) ?? letter.codePointAt(0)!;
  if (code > 0xff) throw new Error(`a letter without a place in the font: ${letter}`);
  return code;
}

/** Words as a string of a PDF: WinAnsi, everything beyond ASCII in octal. */
function lettersOf(words: string): string {
  if (/^[ -'*-[\]-~]*$/.test(words)) return words;
  let out = "";
  for (const letter of words) {
    const code = codeOf(letter);
    if (code > 0x7e) out += `\\${code.toString(8)}`;
    else out += "()\\".includes(letter) ? `\\${letter}` : letter;
  }
  return out;
}
