/** Stands at the edge for the fonts that the writer of PDFs brings along: our papers carry their own (`font.ts`). */
export const FontNames = {};
