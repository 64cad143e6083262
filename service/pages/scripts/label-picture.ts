/**
 * A label as PNG, drawn by the browser from the label's SVG, which carries its letters with it. Without this script the
 * buttons stay hidden, and SVG and PDF are there.
 */
import { dotsFor, withDotsPerInch } from "../../documents/png-size.ts";

const said = document.querySelector<HTMLElement>("#picture-said")!;

for (const button of document.querySelectorAll<HTMLButtonElement>("button[data-svg]")) {
  button.hidden = false;
  button.addEventListener("click", () => void save(button));
}

async function save(button: HTMLButtonElement): Promise<void> {
  const { svg, dpi, width, height, name } = button.dataset as Record<string, string>;
  button.disabled = true;
  said.textContent = "Drawing …";
  try {
    const [wide, high] = [
      dotsFor(Number(width), Number(dpi)),
      dotsFor(Number(height), Number(dpi)),
    ];
    const png = await draw(svg!, wide, high);
    hand(withDotsPerInch(png, Number(dpi)), name!);
    said.textContent = `${name}: ${wide} × ${high} dots, ${width} × ${height} mm at ${dpi} dots an inch.`;
  } catch {
    // A print that became void, a lost line, or a canvas larger than this browser can hold.
    said.textContent =
      "The picture could not be drawn here. Reload the page to see whether the print still stands, or take the SVG.";
  } finally {
    button.disabled = false;
    button.focus();
  }
}

/** @throws Error when the label cannot be had, or this browser cannot hold so large a picture */
async function draw(svg: string, wide: number, high: number): Promise<Uint8Array> {
  const label = new Image();
  label.src = svg;
  await label.decode();
  const canvas = document.createElement("canvas");
  canvas.width = wide;
  canvas.height = high;
  const pen = canvas.getContext("2d", { alpha: false })!;
  // A whole number of dots is a hair more than the label: without paper under it the edge would be grey.
  pen.fillStyle = "#fff";
  pen.fillRect(0, 0, wide, high);
  pen.drawImage(label, 0, 0, wide, high);
  const png = await new Promise<Blob | null>((done) => canvas.toBlob(done, "image/png"));
  return new Uint8Array(await png!.arrayBuffer());
}

function hand(png: Uint8Array<ArrayBuffer>, name: string): void {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(new Blob([png], { type: "image/png" }));
  link.download = name;
  link.click();
  // Not at once: some browsers read it after the click has returned.
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
}
