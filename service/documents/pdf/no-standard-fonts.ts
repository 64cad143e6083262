/**
 * Stands at the edge for the fonts that the writer of PDFs brings along: `wrangler.toml` names it. Our papers carry a
 * font of their own (`font.ts`), so these would only make the Worker larger.
 */
const NONE = {};
export { NONE as Encodings, NONE as FontNames };

export class Font {
  static load(): never {
    throw new Error("a PDF is written in its own font");
  }
}
