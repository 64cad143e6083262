/**
 * Codes that a phone or a scanner reads: QR (ISO/IEC 18004) and Code 128 (ISO/IEC 15417), as modules and as a path to
 * draw. Nothing personal stands in any: a batch's number, or the address of its page behind the door.
 */
import loaded from "jsbarcode/bin/barcodes/CODE128/CODE128_AUTO.js";
import { encodeQR } from "qr";

/** Some loaders hand over a CommonJS module, others what it exports by default. */
const Code128 = "default" in loaded ? loaded.default : loaded;

export interface DrawnCode {
  /** Of the code without its quiet zone [modules] */
  readonly width: number;
  readonly height: number;
  /** SVG path in modules; every dark run of a row is a rectangle. */
  readonly path: string;
}

/** A QR code with 15 % of it to spare. */
export function qrCode(text: string): DrawnCode {
  const bordered = encodeQR(text, "raw", { ecc: "medium", border: 1 });
  const rows = bordered.slice(1, -1).map((row) => row.slice(1, -1));
  const path = rows.flatMap((row, y) => runsOf(row).map((run) => rectangle(run, y, 1)));
  return { width: rows.length, height: rows.length, path: path.join("") };
}

/**
 * A Code 128.
 * @param height of the bars, in modules
 */
export function code128(text: string, height: number): DrawnCode {
  const { data } = new Code128(text, {}).encode();
  const modules = [...data].map((bit) => bit === "1");
  const path = runsOf(modules).map((run) => rectangle(run, 0, height));
  return { width: modules.length, height, path: path.join("") };
}

interface Run {
  readonly from: number;
  readonly length: number;
}

function runsOf(modules: readonly boolean[]): Run[] {
  const runs: Run[] = [];
  for (const [at, isDark] of modules.entries()) {
    const last = runs.at(-1);
    if (!isDark) continue;
    if (last && last.from + last.length === at)
      runs[runs.length - 1] = { ...last, length: last.length + 1 };
    else runs.push({ from: at, length: 1 });
  }
  return runs;
}

function rectangle({ from, length }: Run, y: number, height: number): string {
  return `M${from} ${y}h${length}v${height}h-${length}z`;
}
