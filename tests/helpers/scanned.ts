/**
 * A drawn code read back by another library.
 */
import {
  BarcodeFormat,
  BinaryBitmap,
  DecodeHintType,
  HybridBinarizer,
  MultiFormatReader,
  RGBLuminanceSource,
} from "@zxing/library";
import type { DrawnCode } from "#service/documents/codes.ts";

const PX = 4;
/** White modules that a QR code needs round itself (ISO/IEC 18004, from memory). */
export const QR_QUIET = 4;
/** White modules that a Code 128 needs before and after (ISO/IEC 15417, from memory). */
export const CODE128_QUIET = 10;

/** Fill the rectangles of a path, and read what stands there. */
export function scanned(
  { width, height, path }: DrawnCode,
  quiet: number,
  format: BarcodeFormat,
): string {
  const [wide, high] = [(width + 2 * quiet) * PX, (height + 2 * quiet) * PX];
  const grey = new Uint8ClampedArray(wide * high).fill(255);
  for (const [, x, y, w, h] of path.matchAll(/M(\d+) (\d+)h(\d+)v(\d+)h-\d+z/g)) {
    const [left, top] = [(Number(x) + quiet) * PX, (Number(y) + quiet) * PX];
    for (let row = top; row < top + Number(h) * PX; row += 1) {
      grey.fill(0, row * wide + left, row * wide + left + Number(w) * PX);
    }
  }
  return read({ grey, wide, high }, format);
}

/** Read the code in a picture. @param grey 0 to 255 for each dot, row by row */
export function read(
  { grey, wide, high }: { grey: Uint8ClampedArray; wide: number; high: number },
  format: BarcodeFormat,
): string {
  const hints = new Map<DecodeHintType, unknown>([
    [DecodeHintType.POSSIBLE_FORMATS, [format]],
    [DecodeHintType.TRY_HARDER, true],
  ]);
  const source = new RGBLuminanceSource(grey, wide, high);
  const reader = new MultiFormatReader();
  return reader.decode(new BinaryBitmap(new HybridBinarizer(source)), hints).getText();
}
