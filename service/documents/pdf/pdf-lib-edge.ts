/**
 * Stands at the edge for the writer of PDFs (`wrangler.toml` names it): of the same library only what `file.ts` uses,
 * which makes the Worker 12 KiB larger and not 180.
 */
export { default as PDFContext } from "../../../node_modules/pdf-lib/es/core/PDFContext.js";
export { default as PDFHexString } from "../../../node_modules/pdf-lib/es/core/objects/PDFHexString.js";
export { default as PDFRawStream } from "../../../node_modules/pdf-lib/es/core/objects/PDFRawStream.js";
export { default as PDFString } from "../../../node_modules/pdf-lib/es/core/objects/PDFString.js";
export { default as PDFWriter } from "../../../node_modules/pdf-lib/es/core/writers/PDFWriter.js";
