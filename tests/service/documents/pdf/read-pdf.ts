/**
 * Reads back what a PDF of ours says and where: pages, and every piece of text with its place and its measured box.
 */
import { inflateSync } from "node:zlib";
import { PDFDict, PDFDocument, PDFName, PDFNumber, PDFRawStream } from "pdf-lib";

export interface ReadText {
  readonly words: string;
  /** From the lower left corner of the page, of the line the letters stand on [pt] */
  readonly x: number;
  readonly y: number;
  readonly size: number;
  readonly isBold: boolean;
  /** By the widths that the PDF itself gives its letters [pt] */
  readonly width: number;
}

export interface ReadPage {
  readonly width: number;
  readonly height: number;
  readonly texts: readonly ReadText[];
  /** All words in the order drawn, with single spaces. */
  readonly words: string;
  /** Operators as they stand in the file. */
  readonly content: string;
}

const TEXT =
  /BT [\d.]+ g \/([RB]) ([\d.]+) Tf (-?[\d.]+) (-?[\d.]+) Td \(((?:[^()\\]|\\.)*)\) Tj ET/g;

export async function readPdf(bytes: Uint8Array) {
  const document = await PDFDocument.load(bytes, { updateMetadata: false });
  const streamOf = (stream: PDFRawStream) => inflateSync(stream.contents).toString("latin1");
  const pages = document.getPages().map((page): ReadPage => {
    const resources = page.node.Resources()!;
    const fonts = resources.lookup(PDFName.of("Font"), PDFDict);
    const widthsOf = new Map(
      ["R", "B"].map((name) => {
        const font = fonts.lookup(PDFName.of(name), PDFDict);
        const widths = font.get(PDFName.of("Widths")) as unknown as { asArray(): PDFNumber[] };
        return [name, widths.asArray().map((width) => width.asNumber())];
      }),
    );
    const content = streamOf(
      page.node.lookup(PDFName.of("Contents"), PDFRawStream as never) as never,
    );
    return { ...page.getSize(), content, ...textsOf(content, widthsOf) };
  });
  const drawings = document.context
    .enumerateIndirectObjects()
    .flatMap(([, object]) =>
      object instanceof PDFRawStream &&
      object.dict.get(PDFName.of("Subtype")) === PDFName.of("Form")
        ? [streamOf(object)]
        : [],
    )
    .map((content) => ({ content, ...textsOf(content) }));
  return { pages, drawings, title: document.getTitle() };
}

function textsOf(content: string, widthsOf?: ReadonlyMap<string, readonly number[]>) {
  const texts = [...content.matchAll(TEXT)].map(([, font, size, x, y, literal]): ReadText => {
    const codes = codesOf(literal!);
    const widths = widthsOf?.get(font!);
    const ems = codes.reduce((sum, code) => sum + (widths?.[code - 32] ?? 0), 0) / 1000;
    return {
      words: lettersOf(codes),
      ...{ x: Number(x), y: Number(y), size: Number(size), isBold: font === "B" },
      width: ems * Number(size),
    };
  });
  return { texts, words: plain(texts.map(({ words }) => words).join(" ")) };
}

/** Words as they are compared: no-break spaces and breaks of lines are spaces. */
export function plain(words: string): string {
  return words.replaceAll(/\s+/g, " ").trim();
}

function codesOf(literal: string): number[] {
  const pieces = literal.match(/\\[0-7]{3}|\\.|[^\\]/g) ?? [];
  return pieces.map((piece) => {
    if (/^\\\d/.test(piece)) return Number.parseInt(piece.slice(1), 8);
    return piece.at(-1)!.charCodeAt(0);
  });
}

/** cp1252 where it is not Latin-1, as far as our papers use it; not every TextDecoder knows it. */
const HIGH: Readonly<Record<number, string>> = {
  ...{ 0x80: "€", 0x81: "ı", 0x82: "‚", 0x84: "„", 0x85: "…", 0x8c: "Œ", 0x91: "‘", 0x92: "’" },
  ...{ 0x93: "“", 0x94: "”", 0x95: "•", 0x96: "–", 0x97: "—", 0x99: "™", 0x9c: "œ" },
};

function lettersOf(codes: readonly number[]): string {
  return codes.map((code) => HIGH[code] ?? String.fromCharCode(code)).join("");
}

/** Texts that reach over the edge of their page, and pairs that lie on each other. */
export function misplaced({ texts, width, height }: ReadPage): string[] {
  const boxes = texts.map(({ words, x, y, size, width: wide }) => ({
    ...{ words, left: x, right: x + wide, low: y - size * 0.2, high: y + size * 0.7 },
  }));
  const over = boxes.filter(
    ({ left, right, low, high }) =>
      left < 20 || right > width - 20 || low < 8 || high > height - 20,
  );
  const pairs = boxes.flatMap((one, at) =>
    boxes
      .slice(at + 1)
      .filter(
        (two) =>
          one.left < two.right - 0.1 &&
          two.left < one.right - 0.1 &&
          one.low < two.high &&
          two.low < one.high,
      )
      .map((two) => `${one.words} / ${two.words}`),
  );
  return [...over.map(({ words }) => words), ...pairs];
}
