/**
 * Compose: the base to start from, and the rows that make it the customer's own.
 */
import type { Act } from "../state.ts";
import { isMakersBase } from "../state.ts";
import { type View, bar, button, html, say } from "../dom.ts";
import type { Language } from "../language.ts";
import { type Scene, judgeBase } from "../scene.ts";
import { sayFirmnessShort } from "../sayings.ts";
import { radioGroup } from "./radios.ts";
import { type RowView, rowView } from "./row.ts";
import type { ProductOffer } from "#core/wire.ts";

/** Cards: what a base is, how firm it sets, why one would take it. */
export function baseView(
  offer: ProductOffer,
  language: Language,
  doAct: (act: Act) => void,
): View<Scene> {
  const options = offer.product.bases.map((base) => ({
    value: base.id,
    words: [
      html("span", { class: "card-name", lang: offer.locale }, base.name),
      html("span", { class: "card-words", lang: offer.locale }, base.words),
      html("span", { class: "card-firmness" }, sayFirmnessShort(judgeBase(offer, base), language)),
    ],
  }));
  const group = radioGroup("bases", language.words.blend.bases(), "card base", options, (base) =>
    doAct({ kind: "choose-base", base }),
  );
  return { node: group.node, show: ({ state }) => group.show(state.choice.base) };
}

/**
 * The rows of the chosen base. They are built anew only when the base changes, so that focus stays
 * where it is.
 */
export function blendView(
  offer: ProductOffer,
  language: Language,
  doAct: (act: Act) => void,
): View<Scene> {
  const words = language.words.blend;
  const list = html("ul", { class: "rows", role: "list" });
  const undo = button(
    { class: "quiet", "aria-keyshortcuts": "Control+Z" },
    () => doAct({ kind: "undo" }),
    words.undo(),
  );
  const redo = button(
    { class: "quiet", "aria-keyshortcuts": "Control+Shift+Z Control+Y" },
    () => doAct({ kind: "redo" }),
    words.redo(),
  );
  const back = button({ class: "quiet" }, () => doAct({ kind: "back-to-base" }));
  const node = html(
    "section",
    { class: "blend" },
    html("h3", {}, words.title()),
    html("p", { class: "aside" }, words.rule()),
    list,
    html("div", { class: "way-back" }, undo, redo, back),
  );
  let shownBase = "";
  let rows: RowView[] = [];
  return {
    node,
    show(scene) {
      if (scene.base.id !== shownBase) {
        shownBase = scene.base.id;
        rows = scene.rows.map((row, at) => rowView(offer, language, row, at, doAct));
        list.replaceChildren(...rows.map(({ node: row }) => row));
      }
      for (const [at, view] of rows.entries())
        view.show(scene.rows[at]!, scene.state.stuckRow === at);
      bar(undo, scene.state.past.length === 0);
      bar(redo, scene.state.future.length === 0);
      bar(back, isMakersBase(scene.state));
      say(back, words.back({ base: scene.base.name }));
    },
  };
}
