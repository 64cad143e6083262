/**
 * One constructed style sheet, shared by every composer on the page. No style attribute is ever
 * written as markup: moving values go through `style.setProperty`, which a strict content policy
 * allows.
 */
import controls from "./styles/controls.css" with { type: "text" };
import ground from "./styles/ground.css" with { type: "text" };
import layout from "./styles/layout.css" with { type: "text" };
import picture from "./styles/picture.css" with { type: "text" };

let sheet: CSSStyleSheet | undefined;

export function composerSheet(): CSSStyleSheet {
  if (!sheet) {
    sheet = new CSSStyleSheet();
    sheet.replaceSync(ground + controls + picture + layout);
  }
  return sheet;
}
