/**
 * The font that our papers carry along, so that they look the same on every machine: IBM Plex Sans (SIL Open Font
 * License), the one labels are reckoned in.
 */
import { LABEL_FACE } from "#data/library/label-font.ts";
import type { PDFRef } from "pdf-lib";
import type { Ports } from "../../ports.ts";
import { EXTRA_LETTERS, codeOf } from "./canvas.ts";
import { deflate } from "./deflate.ts";

export interface PaperFont {
  readonly name: string;
  /** The TrueType file, deflated. */
  readonly deflated: Uint8Array;
  /** Of the file itself. */
  readonly length: number;
  /** Around every letter, in thousandths of the em: left, lower, right, upper. */
  readonly box: readonly number[];
  readonly ascent: number;
  readonly descent: number;
  readonly capHeight: number;
  /** Widths of the codes from 32 to 255, in thousandths of the em. */
  readonly widths: readonly number[];
}

export interface PaperFonts {
  readonly regular: PaperFont;
  readonly bold: PaperFont;
}

const FIRST_CODE = 32;
const LAST_CODE = 255;
/** ISO 32000-1, table 123: the letters are those of a Latin text. */
const NONSYMBOLIC = 32;
/** Width of a stem is not in the file; a viewer needs it only without the font [thousandths of the em]; own choice. */
const STEM = { regular: 80, bold: 120 } as const;

let known: Promise<PaperFonts> | undefined;

/** The fonts, read once. @throws when the build has left none */
export async function paperFonts({ asset }: Pick<Ports, "asset">): Promise<PaperFonts> {
  known ??= readFonts(asset);
  try {
    return await known;
  } catch (error) {
    known = undefined;
    throw error;
  }
}

async function readFonts(asset: Ports["asset"]): Promise<PaperFonts> {
  const [regular, bold] = await Promise.all([
    readFont(asset, "plex-400.ttf", "IBMPlexSans", LABEL_FACE.regular),
    readFont(asset, "plex-600.ttf", "IBMPlexSans-SemiBold", LABEL_FACE.bold),
  ]);
  return { regular, bold };
}

async function readFont(
  asset: Ports["asset"],
  file: string,
  name: string,
  { advances, capHeight }: (typeof LABEL_FACE)["regular"],
): Promise<PaperFont> {
  const body = await asset(file);
  if (!body) throw new Error(`the font ${file} is missing; build again`);
  const bytes = new Uint8Array(await new Response(body).arrayBuffer());
  const table = tablesOf(bytes);
  const [head, hhea] = [table("head"), table("hhea")];
  const em = head.getUint16(18);
  const parts = (units: number) => Math.round((units / em) * 1000);
  const widths = new Array<number>(LAST_CODE - FIRST_CODE + 1).fill(0);
  for (const [letter, advance] of advances) {
    widths[codeOf(letter) - FIRST_CODE] = Math.round(advance * 1000);
  }
  return {
    name,
    deflated: await deflate(bytes),
    length: bytes.length,
    box: [36, 38, 40, 42].map((at) => parts(head.getInt16(at))),
    ascent: parts(hhea.getInt16(4)),
    descent: parts(hhea.getInt16(6)),
    capHeight: Math.round(capHeight * 1000),
    widths,
  };
}

function tablesOf(bytes: Uint8Array<ArrayBuffer>): (tag: string) => DataView {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  return (tag) => {
    for (let at = 12; at < 12 + view.getUint16(4) * 16; at += 16) {
      const name = String.fromCharCode(...bytes.subarray(at, at + 4));
      if (name === tag)
        return new DataView(bytes.buffer, bytes.byteOffset + view.getUint32(at + 8));
    }
    throw new Error(`the font has no table ${tag}`);
  };
}

/** Put a font into a PDF (ISO 32000-1, 9.6.3 and 9.8). */
export function embedFont(
  refOf: (dict: object) => PDFRef,
  streamOf: (bytes: Uint8Array, dict: object) => PDFRef,
  { name, deflated, length, box, ascent, descent, capHeight, widths }: PaperFont,
  weight: keyof PaperFonts,
): PDFRef {
  const file = streamOf(deflated, { Length1: length });
  const descriptor = refOf({
    ...{ Type: "FontDescriptor", FontName: name, Flags: NONSYMBOLIC, FontBBox: box },
    ...{ ItalicAngle: 0, Ascent: ascent, Descent: descent, CapHeight: capHeight },
    ...{ StemV: STEM[weight], FontFile2: file },
  });
  const extras = Object.values(EXTRA_LETTERS).flatMap(({ code, name: letter }) => [code, letter]);
  return refOf({
    ...{ Type: "Font", Subtype: "TrueType", BaseFont: name, FontDescriptor: descriptor },
    ...{ FirstChar: FIRST_CODE, LastChar: LAST_CODE, Widths: widths },
    Encoding: { Type: "Encoding", BaseEncoding: "WinAnsiEncoding", Differences: extras },
  });
}
