/**
 * Drawn pages as a PDF (ISO 32000-1). The writer of PDFs is loaded when the first is asked for, so that no start pays
 * for it; at the edge `pdf-lib-edge.ts` stands in its place.
 */
import type { PDFRef } from "pdf-lib";
import type { Ports } from "../../ports.ts";
import { type Canvas, FONT_NAMES } from "./canvas.ts";
import { deflate } from "./deflate.ts";
import { embedFont, paperFonts } from "./font.ts";

export interface PaperAbout {
  readonly title: string;
  readonly author: string;
  /** When it is written [s since 1970] */
  readonly at: number;
}

/** Drawings that pages set in by their name. */
export type Drawings = ReadonlyMap<string, Canvas>;

/** Objects written before others get their turn; own choice. */
const OBJECTS_A_TURN = 200;

/**
 * Write a PDF.
 * @param pages at least one
 * @param drawings drawn once and set into pages as often as they ask for it
 */
export async function writePdf(
  { asset }: Pick<Ports, "asset">,
  pages: readonly Canvas[],
  { title, author, at }: PaperAbout,
  drawings: Drawings = new Map(),
): Promise<Uint8Array<ArrayBuffer>> {
  const [{ PDFContext, PDFHexString, PDFRawStream, PDFString, PDFWriter }, fonts] =
    await Promise.all([import("pdf-lib"), paperFonts({ asset })]);
  const context = PDFContext.create();
  const refOf = (dict: object) => context.register(context.obj({ ...dict }));
  const streamOf = (bytes: Uint8Array, dict: object): PDFRef => {
    const entries = context.obj({ ...dict, Filter: "FlateDecode", Length: bytes.length });
    return context.register(PDFRawStream.of(entries, bytes));
  };
  const Font = {
    [FONT_NAMES.regular]: embedFont(refOf, streamOf, fonts.regular, "regular"),
    [FONT_NAMES.bold]: embedFont(refOf, streamOf, fonts.bold, "bold"),
  };
  const XObject: Record<string, PDFRef> = {};
  for (const [name, drawing] of drawings) {
    const BBox = [0, 0, drawing.width, drawing.height];
    const dict = { Type: "XObject", Subtype: "Form", BBox, Resources: { Font } };
    XObject[name] = streamOf(await packed(drawing), dict);
  }
  const Resources = refOf({ Font, XObject });
  const contents = await Promise.all(pages.map(packed));
  const Parent = context.nextRef();
  const Kids = pages.map(({ width, height }, place) => {
    const Contents = streamOf(contents[place]!, {});
    return refOf({ Type: "Page", Parent, MediaBox: [0, 0, width, height], Resources, Contents });
  });
  context.assign(Parent, context.obj({ Type: "Pages", Kids, Count: pages.length }));
  const moment = PDFString.fromDate(new Date(at * 1000));
  context.trailerInfo.Root = refOf({
    ...{ Type: "Catalog", Pages: Parent, Lang: PDFString.of("en-GB") },
    ViewerPreferences: { DisplayDocTitle: true },
  });
  context.trailerInfo.Info = refOf({
    ...{ Title: PDFHexString.fromText(title), Author: PDFHexString.fromText(author) },
    ...{ CreationDate: moment, ModDate: moment },
  });
  const written = await PDFWriter.forContext(context, OBJECTS_A_TURN).serializeToBuffer();
  return new Uint8Array(written);
}

async function packed(canvas: Canvas): Promise<Uint8Array<ArrayBuffer>> {
  return await deflate(new TextEncoder().encode(canvas.content()));
}
