/** Codes as they are drawn, read back by another library from the drawing. */
import {
  BarcodeFormat,
  BinaryBitmap,
  DecodeHintType,
  HybridBinarizer,
  MultiFormatReader,
  RGBLuminanceSource,
} from "@zxing/library";
import { expect, it } from "vitest";
import {
  CODE128_QUIET,
  type DrawnCode,
  QR_QUIET,
  code128,
  qrCode,
} from "#service/documents/codes.ts";

const PX = 4;

/** Fill the rectangles of a path, and read what stands there. */
function scanned({ width, height, path }: DrawnCode, quiet: number, format: BarcodeFormat): string {
  const [wide, high] = [(width + 2 * quiet) * PX, (height + 2 * quiet) * PX];
  const grey = new Uint8ClampedArray(wide * high).fill(255);
  for (const [, x, y, w, h] of path.matchAll(/M(\d+) (\d+)h(\d+)v(\d+)h-\d+z/g)) {
    const [left, top] = [(Number(x) + quiet) * PX, (Number(y) + quiet) * PX];
    for (let row = top; row < top + Number(h) * PX; row += 1) {
      grey.fill(0, row * wide + left, row * wide + left + Number(w) * PX);
    }
  }
  const hints = new Map<DecodeHintType, unknown>([
    [DecodeHintType.POSSIBLE_FORMATS, [format]],
    [DecodeHintType.TRY_HARDER, true],
  ]);
  const source = new RGBLuminanceSource(grey, wide, high);
  const reader = new MultiFormatReader();
  return reader.decode(new BinaryBitmap(new HybridBinarizer(source)), hints).getText();
}

it.each(["261125-01", "261125-99", "https://quillfen.example/maker/batches/261125-01"])(
  "a QR code says %s",
  (text) => expect(scanned(qrCode(text), QR_QUIET, BarcodeFormat.QR_CODE)).toBe(text),
);

it.each(["261125-01", "T261125-02", "000101-100"])("a Code 128 says %s", (text) => {
  expect(scanned(code128(text, 20), CODE128_QUIET, BarcodeFormat.CODE_128)).toBe(text);
});

it("a batch number is a QR code of the smallest size, which a label has room for", () => {
  expect(qrCode("261125-01").width).toBe(21);
});
