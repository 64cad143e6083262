/**
 * How large a PNG is meant to be: its dots for a length, and the chunk by which it says how close they stand (pHYs of
 * PNG, ISO/IEC 15948), so that whoever prints it gets the length back.
 */

const MM_PER_INCH = 25.4;
const MM_PER_METRE = 1000;

/** Dots along a length, a whole number. @param dpi dots an inch */
export function dotsFor(mm: number, dpi: number): number {
  return Math.round((mm / MM_PER_INCH) * dpi);
}

const SIGNATURE = [137, 80, 78, 71, 13, 10, 26, 10];
/** The header IHDR, which stands first and is always as long: length, type, 13 bytes and checksum. */
const HEADER_BYTES = 4 + 4 + 13 + 4;
/** "The unit is the metre." */
const METRE = 1;

/**
 * The same picture that says its dots an inch.
 * @throws RangeError when the bytes are no PNG
 */
export function withDotsPerInch(png: Uint8Array, dpi: number): Uint8Array<ArrayBuffer> {
  if (!SIGNATURE.every((byte, at) => png[at] === byte)) throw new RangeError("this is no PNG");
  const chunk = sizeChunk(Math.round((dpi / MM_PER_INCH) * MM_PER_METRE));
  const head = SIGNATURE.length + HEADER_BYTES;
  const whole = new Uint8Array(png.length + chunk.length);
  whole.set(png.subarray(0, head));
  whole.set(chunk, head);
  whole.set(png.subarray(head), head + chunk.length);
  return whole;
}

function sizeChunk(dotsPerMetre: number): Uint8Array {
  const data = 9;
  const chunk = new Uint8Array(4 + 4 + data + 4);
  const view = new DataView(chunk.buffer);
  view.setUint32(0, data);
  chunk.set(new TextEncoder().encode("pHYs"), 4);
  view.setUint32(8, dotsPerMetre);
  view.setUint32(12, dotsPerMetre);
  view.setUint8(16, METRE);
  view.setUint32(8 + data, checksum(chunk.subarray(4, 8 + data)));
  return chunk;
}

/** CRC-32 as PNG asks for it, bit by bit: it is a handful of bytes. */
function checksum(bytes: Uint8Array): number {
  let crc = 0xffffffff;
  for (const byte of bytes) {
    crc ^= byte;
    for (let bit = 0; bit < 8; bit += 1) crc = crc & 1 ? (crc >>> 1) ^ 0xedb88320 : crc >>> 1;
  }
  return (crc ^ 0xffffffff) >>> 0;
}
