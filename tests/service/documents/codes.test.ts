/** Codes as they are drawn, read back by another library from the drawing. */
import { BarcodeFormat } from "@zxing/library";
import { expect, it } from "vitest";
import { code128, qrCode } from "#service/documents/codes.ts";
import { CODE128_QUIET, QR_QUIET, scanned } from "../../helpers/scanned.ts";

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
