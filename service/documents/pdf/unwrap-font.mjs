/**
 * A font as it comes in a package (WOFF 1.0, W3C 2012), unwrapped to the TrueType file that a PDF can carry. Done when
 * we build, so that nothing is unpacked while a request waits.
 */
import { Buffer } from "node:buffer";
import { inflateSync } from "node:zlib";

/** What a PDF needs of a TrueType font (ISO 32000-1, 9.9); kerning and ligatures are not used. */
const KEPT = new Set([
  ...["OS/2", "cmap", "cvt ", "fpgm", "glyf", "head", "hhea", "hmtx", "loca", "maxp", "post"],
  "prep",
]);
const HEAD = 12;
const ENTRY = 16;
const WOFF_HEAD = 44;
const WOFF_ENTRY = 20;

/**
 * @param {Buffer} woff
 * @returns {Buffer}
 */
export function unwrapFont(woff) {
  const tables = Array.from({ length: woff.readUInt16BE(12) }, (_, at) =>
    tableAt(woff, WOFF_HEAD + at * WOFF_ENTRY),
  ).filter(({ tag }) => KEPT.has(tag));
  const head = Buffer.alloc(HEAD + tables.length * ENTRY);
  const power = 2 ** Math.floor(Math.log2(tables.length));
  head.writeUInt32BE(woff.readUInt32BE(4), 0);
  [tables.length, power * ENTRY, Math.log2(power), (tables.length - power) * ENTRY].forEach(
    (value, at) => head.writeUInt16BE(value, 4 + at * 2),
  );
  let offset = head.length;
  const parts = tables.map(({ tag, checksum, bytes }, at) => {
    const entry = HEAD + at * ENTRY;
    head.write(tag, entry, "latin1");
    [checksum, offset, bytes.length].forEach((value, place) =>
      head.writeUInt32BE(value, entry + 4 + place * 4),
    );
    const padded = Buffer.concat([bytes, Buffer.alloc(-bytes.length & 3)]);
    offset += padded.length;
    return padded;
  });
  return Buffer.concat([head, ...parts]);
}

function tableAt(woff, at) {
  const [offset, packed, whole, checksum] = [4, 8, 12, 16].map((more) =>
    woff.readUInt32BE(at + more),
  );
  const bytes = woff.subarray(offset, offset + packed);
  return {
    tag: woff.toString("latin1", at, at + 4),
    checksum,
    bytes: packed < whole ? inflateSync(bytes) : bytes,
  };
}
