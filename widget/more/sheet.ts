/**
 * The style sheet of the third script, one for all composers of a page.
 */
import more from "../styles/more.css" with { type: "text" };

let sheet: CSSStyleSheet | undefined;

export function moreSheet(): CSSStyleSheet {
  if (!sheet) {
    sheet = new CSSStyleSheet();
    sheet.replaceSync(more);
  }
  return sheet;
}
