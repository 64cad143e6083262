/**
 * One row of the blend: a butter, an oil place or an additive, with its share.
 *
 * The slider is the browser's own. Its scale is hundredths of a percent, so that it can stand at
 * every share the others give it; a single step of that scale, by arrow key or assistive
 * technology, moves a whole percent as the buttons do.
 */
import type { Ingredient } from "#core/ingredient.ts";
import type { ProductOffer } from "#core/wire.ts";
import { nameFamily } from "#core/words/words.ts";
import { bar, button, dress, html, say } from "../dom.ts";
import type { Language } from "../language.ts";
import { ingredientOf, nameOf } from "../scene.ts";
import type { Act, Row } from "../state.ts";

/** [hundredths of a percent] */
const STEP = 100;
/** A drawn slider stops at half percents. */
const DRAWN_TO = 50;

export interface RowView {
  readonly node: HTMLElement;
  show(row: Row, isStuck: boolean): void;
}

/** Build the row; `at` is its place in the blend. */
export function rowView(
  offer: ProductOffer,
  language: Language,
  row: Row,
  at: number,
  doAct: (act: Act) => void,
): RowView {
  const words = language.words.row;
  const figure = html("span", row.locked ? {} : { class: "figure" });
  const share = html("span", { class: "share" }, figure);
  if (row.locked) share.append(" ", html("span", { class: "fixed" }, words.fixed()));
  const note = html("p", { class: "note" });
  const title =
    row.place !== undefined ? oilTitle(offer, language, row, at, doAct) : plainTitle(offer, row);
  const mover = row.locked ? undefined : shareMover(language, row, at, doAct);
  const node = html(
    "li",
    { class: `row${row.locked ? " locked" : ""}${row.place ? " oil-row" : ""}`, part: "row" },
    html("div", { class: "row-head" }, title.node, share),
    ...(mover ? [mover.node] : []),
    note,
  );
  let filled = "";
  let usualNote = "";
  return {
    node,
    show(now, isStuck) {
      if (now.ingredient !== filled) {
        filled = now.ingredient;
        title.show(now);
        mover?.name(nameOf(offer, filled));
        usualNote = sayNote(offer, language, now);
      }
      const shareText = language.percent(now.share);
      say(figure, shareText);
      mover?.show(now, shareText);
      say(note, isStuck ? words.stuck() : usualNote);
      if (isStuck !== note.classList.contains("stuck")) note.classList.toggle("stuck");
    },
  };
}

interface Piece {
  readonly node: HTMLElement;
  show(row: Row): void;
}

function plainTitle(offer: ProductOffer, row: Row): Piece {
  const node = html("span", { class: "row-name" }, nameOf(offer, row.ingredient));
  return { node, show: () => undefined };
}

function oilTitle(
  offer: ProductOffer,
  language: Language,
  row: Row,
  at: number,
  doAct: (act: Act) => void,
): Piece {
  const place = offer.product.places.find(({ id }) => id === row.place);
  const options = (place?.allowed ?? [row.ingredient]).map((id) => {
    const ingredient = ingredientOf(offer, id);
    // What ran out stays in the list, so that nobody looks for it, and cannot be taken.
    const barred = ingredient?.ranOut ? { disabled: "" } : {};
    return html("option", { value: id, ...barred }, optionWords(ingredient, id, language));
  });
  const id = `oil-${at}`;
  const select = html("select", { id, part: "oil" }, ...options);
  select.addEventListener("change", () =>
    doAct({ kind: "swap-oil", place: row.place!, ingredient: select.value }),
  );
  const node = html(
    "div",
    { class: "oil" },
    html(
      "label",
      { for: id, lang: place && offer.locale },
      place?.name ?? language.words.row.oil(),
    ),
    html("div", { class: "picker" }, select),
  );
  return {
    node,
    show: ({ ingredient }) => {
      if (select.value !== ingredient) select.value = ingredient;
    },
  };
}

function optionWords(ingredient: Ingredient | undefined, id: string, language: Language): string {
  if (!ingredient) return id;
  if (ingredient.ranOut) return language.words.row.ranOut({ name: ingredient.name });
  const families = ingredient.allergenFamilies.map((each) => nameFamily(each, language)).join(", ");
  return families ? `${ingredient.name} (${families})` : ingredient.name;
}

function sayNote(offer: ProductOffer, language: Language, row: Row): string {
  const ingredient = ingredientOf(offer, row.ingredient);
  const bound = row.locked
    ? language.words.row.kept()
    : language.words.row.bound({
        least: language.percent(row.least),
        greatest: language.percent(row.greatest),
      });
  return [ingredient?.inci ?? row.ingredient, bound].join(" · ");
}

function shareMover(
  language: Language,
  { least, greatest, makerShare }: Row,
  at: number,
  doAct: (act: Act) => void,
) {
  const words = language.words.row;
  let row: Row | undefined;
  const move = (by: number) => row && doAct({ kind: "move-share", row: at, share: row.share + by });
  const less = button({ class: "step" }, () => move(-STEP), "−");
  const more = button({ class: "step" }, () => move(STEP), "+");
  const range = html("input", {
    type: "range",
    step: 1,
    min: least,
    max: greatest,
    part: "range",
  });
  const taken = html("div", { class: "taken" });
  const maker = html("div", { class: "maker" });
  const rail = html("div", { class: "rail" }, taken, maker);
  const track = html("div", { class: "track" }, rail, range);
  const along = (share: number) => `${(100 * (share - least)) / (greatest - least)}%`;
  maker.style.insetInlineStart = along(makerShare);
  listenTo(range, at, () => row, doAct);
  let named = "";
  return {
    node: html("div", { class: "mover" }, less, html("div", { class: "groove" }, track), more),
    name(name: string) {
      named = name;
      dress(range, { "aria-label": words.share({ name }) });
      dress(less, { "aria-label": words.less({ name }) });
      dress(more, { "aria-label": words.more({ name }) });
    },
    show(now: Row, share: string) {
      const isMoved = row?.share !== now.share;
      row = now;
      dress(range, { "aria-valuetext": words.value({ name: named, share }) });
      if (range.valueAsNumber !== now.share) range.valueAsNumber = now.share;
      if (!isMoved) return;
      taken.style.width = along(now.share);
      bar(less, now.share <= least);
      bar(more, now.share >= greatest);
    },
  };
}

function listenTo(
  range: HTMLInputElement,
  at: number,
  rowNow: () => Row | undefined,
  doAct: (act: Act) => void,
): void {
  let drawn = false;
  range.addEventListener("pointerdown", () => (drawn = true));
  range.addEventListener("input", () => {
    const row = rowNow();
    if (!row) return;
    const by = range.valueAsNumber - row.share;
    const isKey = !drawn && Math.abs(by) < STEP;
    const share = isKey ? row.share + Math.sign(by) * STEP : snap(range.valueAsNumber, row);
    doAct({ kind: "move-share", row: at, share });
    // Held back by a bound or by the others: the thumb goes where the share is.
    range.valueAsNumber = rowNow()!.share;
  });
  range.addEventListener("change", () => {
    if (drawn) doAct({ kind: "settle" });
    drawn = false;
  });
}

/** Half percents, and the very ends of the bound. */
function snap(share: number, { least, greatest }: Row): number {
  const near = Math.round(share / DRAWN_TO) * DRAWN_TO;
  return share === least || share === greatest ? share : near;
}
