/**
 * What a WOFF 1.0 file (W3C, 2012) says of its letters: advance widths by character, and the heights a label is set by.
 * The table of the library was written from this, and a test holds the two together.
 */
import { readFileSync } from "node:fs";
import { inflateSync } from "node:zlib";

export interface FontFigures {
  readonly unitsPerEm: number;
  readonly capHeight: number;
  readonly xHeight: number;
  /** By character, in units of the em. */
  readonly advances: ReadonlyMap<string, number>;
}

export function readWoff(path: URL): FontFigures {
  const file = readFileSync(path);
  const table = tablesOf(file);
  const head = table("head");
  const metricCount = table("hhea").readUInt16BE(34);
  const hmtx = table("hmtx");
  const os2 = table("OS/2");
  const widthOf = (glyph: number) => hmtx.readUInt16BE(Math.min(glyph, metricCount - 1) * 4);
  const advances = new Map<string, number>();
  for (const [code, glyph] of glyphsOf(table("cmap"))) {
    advances.set(String.fromCodePoint(code), widthOf(glyph));
  }
  return {
    unitsPerEm: head.readUInt16BE(18),
    capHeight: os2.readInt16BE(88),
    xHeight: os2.readInt16BE(86),
    advances,
  };
}

function tablesOf(file: Buffer): (tag: string) => Buffer {
  const tables = new Map<string, Buffer>();
  for (let at = 44; at < 44 + file.readUInt16BE(12) * 20; at += 20) {
    const [offset, packed, whole] = [4, 8, 12].map((more) => file.readUInt32BE(at + more));
    const bytes = file.subarray(offset!, offset! + packed!);
    tables.set(file.toString("latin1", at, at + 4), packed! < whole! ? inflateSync(bytes) : bytes);
  }
  return (tag) => tables.get(tag)!;
}

/** Characters of the basic plane with their glyphs (cmap format 4). */
function* glyphsOf(cmap: Buffer): Generator<[code: number, glyph: number]> {
  const places = Array.from({ length: cmap.readUInt16BE(2) }, (_, at) =>
    cmap.readUInt32BE(8 + at * 8),
  );
  const start = places.find((place) => cmap.readUInt16BE(place) === 4)!;
  const twice = cmap.readUInt16BE(start + 6);
  const [ends, starts] = [start + 14, start + 16 + twice];
  const [deltas, offsets] = [starts + twice, starts + 2 * twice];
  for (let at = 0; at < twice; at += 2) {
    const [first, last] = [cmap.readUInt16BE(starts + at), cmap.readUInt16BE(ends + at)];
    const [delta, offset] = [cmap.readUInt16BE(deltas + at), cmap.readUInt16BE(offsets + at)];
    for (let code = first; code <= last && code !== 0xffff; code += 1) {
      const glyph =
        offset === 0 ? code : cmap.readUInt16BE(offsets + at + offset + (code - first) * 2);
      if (glyph !== 0) yield [code, (glyph + delta) & 0xffff];
    }
  }
}
