/**
 * Drawn pages as a PDF. The writer of PDFs is loaded when the first is asked for, so that no start pays for it.
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

/**
 * Write a PDF.
 * @param pages at least one
 * @param drawings drawn once and set into pages as often as they ask for it
 */
export async function writePdf(
  { asset }: Pick<Ports, "asset">,
  pages: readonly Canvas[],
  about: PaperAbout,
  drawings: Drawings = new Map(),
): Promise<Uint8Array<ArrayBuffer>> {
  const [{ PDFDocument, PDFName, PDFRawStream }, fonts] = await Promise.all([
    import("pdf-lib"),
    paperFonts({ asset }),
  ]);
  const document = await PDFDocument.create({ updateMetadata: false });
  const { context } = document;
  const moment = new Date(about.at * 1000);
  document.setTitle(about.title, { showInWindowTitleBar: true });
  document.setAuthor(about.author);
  document.setLanguage("en-GB");
  document.setCreationDate(moment);
  document.setModificationDate(moment);
  const streamOf = (bytes: Uint8Array, dict: object): PDFRef => {
    const entries = context.obj({ ...dict, Filter: "FlateDecode", Length: bytes.length });
    return context.register(PDFRawStream.of(entries, bytes));
  };
  const Font = {
    [FONT_NAMES.regular]: embedFont(context, streamOf, fonts.regular, "regular"),
    [FONT_NAMES.bold]: embedFont(context, streamOf, fonts.bold, "bold"),
  };
  const XObject: Record<string, PDFRef> = {};
  for (const [name, drawing] of drawings) {
    const BBox = [0, 0, drawing.width, drawing.height];
    const dict = { Type: "XObject", Subtype: "Form", BBox, Resources: { Font } };
    XObject[name] = streamOf(await packed(drawing), dict);
  }
  const resources = context.obj({ Font, XObject });
  for (const canvas of pages) {
    const page = document.addPage([canvas.width, canvas.height]);
    page.node.set(PDFName.of("Resources"), resources);
    page.node.set(PDFName.of("Contents"), streamOf(await packed(canvas), {}));
  }
  // Without object streams: what is in the file is packed already, and older readers open it too.
  return new Uint8Array(await document.save({ useObjectStreams: false, addDefaultPage: false }));
}

async function packed(canvas: Canvas): Promise<Uint8Array<ArrayBuffer>> {
  return await deflate(new TextEncoder().encode(canvas.content()));
}
