/**
 * Printed labels: sheets for paper, and one label as a picture that carries its letters with it.
 */
import { PAPERS } from "#core/make/label-sheet.ts";
import type { LabelPrint, PaperKind } from "../batches/label-prints.ts";
import {
  type LabelChoice,
  type LabelDesk,
  type LabelOfKind,
  isSameJar,
  labelOfKind,
} from "../batches/labels.ts";
import type { Ports } from "../ports.ts";
import { Refusal } from "../problem.ts";
import { type DrawnLabel, drawLabel, labelSheets } from "./label-drawing.ts";
import { renderTemplate } from "./render.ts";

/** The labels of a print with how many there are of each, as they stand now. */
export function labelsOfPrint(
  desk: LabelDesk,
  choice: LabelChoice,
  { labels, sequence }: LabelPrint,
): { readonly label: LabelOfKind; readonly drawn: DrawnLabel; readonly count: number }[] {
  return labels.map((printed) => {
    const kind = desk.kinds.find((each) => isSameJar(each, printed));
    const label = kind && labelOfKind(desk, kind, choice);
    if (!label?.fitted) {
      throw new Refusal(
        "make.label.void",
        `Print ${sequence} no longer fits its label. Print anew.`,
      );
    }
    return {
      label,
      drawn: drawLabel(label.fitted, choice.size, desk.batch.number),
      count: printed.count,
    };
  });
}

/** A print as a page to be printed. */
export function renderLabels(
  desk: LabelDesk,
  choice: LabelChoice,
  print: LabelPrint,
  { foot, backHref }: { readonly foot: string; readonly backHref: string },
): string {
  const paper = print.paper as PaperKind;
  const { widthMm, heightMm } = choice.size;
  const all = labelsOfPrint(desk, choice, print);
  const sheets = labelSheets(all, paper);
  if (!sheets) throw new Error("labels were printed on a paper too small for them");
  const size = paper === "label" ? undefined : PAPERS[paper];
  return renderTemplate("documents/labels", {
    batchNumber: desk.batch.number,
    ...{ paper, sheets, backHref },
    pdfHref: `${backHref}/printed/${print.sequence}/labels.pdf`,
    stylesheets: [
      "/assets/labels.css",
      ...(size ? [] : [`${backHref}/page.css?w=${widthMm}&h=${heightMm}`]),
    ],
    how: size
      ? "Print at 100 %, or “actual size”, without headers and footers. The marks between the labels show where to cut."
      : `Each page is one label of ${widthMm} × ${heightMm} mm. Print at 100 %, without headers and footers.`,
    kinds: all.map(({ label: { kind }, drawn }, at) => ({
      ...{ at, drawn },
      words: `${kind.jarName}, ${kind.fillG}\u00a0g`,
      svgHref: `${backHref}/printed/${print.sequence}/${at}.svg`,
      pictures: PICTURE_DPI.map((dpi) => ({
        dpi,
        name: pictureName(desk.batch.number, `${at}-${dpi}dpi.png`),
      })),
    })),
    foot: size ? foot : "",
    footAt: size ? size.heightMm - 4.5 : 0,
  });
}

/** What printers of labels ask for; common practice, no source [dots an inch] */
const PICTURE_DPI = [300, 600] as const;

/** Name of a picture's file. */
export function pictureName(batchNumber: string, picture: string): string {
  return `label-${batchNumber}-${picture}`.replaceAll(/[^\w.-]/g, "_");
}

/**
 * One label as an SVG that needs no other file.
 * @throws Error when a font is not among the built files: in other letters the words would not fit
 */
export async function renderLabelPicture(
  { asset }: Pick<Ports, "asset">,
  title: string,
  drawn: DrawnLabel,
): Promise<string> {
  const faces = await Promise.all(
    [400, 600].map(async (weight) => {
      const font = await asset(`plex-${weight}.woff2`);
      if (!font) throw new Error(`the font plex-${weight}.woff2 is not built`);
      return { weight, data: base64(await new Response(font).arrayBuffer()) };
    }),
  );
  return renderTemplate("documents/label-picture", { title, drawn, faces });
}

function base64(bytes: ArrayBuffer): string {
  return btoa(Array.from(new Uint8Array(bytes), (byte) => String.fromCharCode(byte)).join(""));
}

/** Style sheet of a page that is one label. */
export function labelPageCss(widthMm: number, heightMm: number): string {
  const size = `${widthMm}mm ${heightMm}mm`;
  return `@page{size:${size};margin:0}.paper{width:${widthMm}mm;height:${heightMm - 0.1}mm}`;
}
