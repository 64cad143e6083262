/**
 * One ingredient: what it costs, which lots stand there, which to take first, and where it is used.
 */
import type { Ingredient } from "#core/ingredient.ts";
import { ingredientById } from "#data/library.ts";
import { helpers } from "../documents/helpers.ts";
import { sayMass } from "../shelf/amount.ts";
import type { StandInList } from "../shelf/stand-in-list.ts";
import type { IngredientRow, ProductUse } from "../storage/ingredients.ts";
import type { LotRow } from "../storage/lots.ts";
import type { Suggestion } from "../storage/stock.ts";
import { countWords } from "../words/count-words.ts";
import { hrefOf, lotHref, lowSentence } from "./maker-shelf.ts";
import { type Said, STATES, priceOf, sayDay, stateOfLot } from "./maker-shelf-words.ts";

export const LOTS_SHOWN_MOST = 40;

export interface IngredientLists {
  /** One more than is shown when there are more. */
  readonly onShelf: readonly LotRow[];
  readonly gone: readonly LotRow[];
  readonly uses: readonly ProductUse[];
}

export interface Asked {
  /** As it was typed; empty when nobody asked. */
  readonly need: string;
  readonly needFault: string;
  readonly suggestion: Suggestion | undefined;
  /** Worked out only when asked for: it judges many blends. */
  readonly standIns: StandInList | undefined;
}

export function ingredientPage(
  said: Said,
  { row, ingredient }: { readonly row: IngredientRow; readonly ingredient: Ingredient },
  { onShelf, gone, uses }: IngredientLists,
  { need, needFault, suggestion, standIns }: Asked,
) {
  const { locale } = said;
  const shown = onShelf.slice(0, LOTS_SHOWN_MOST);
  return {
    title: ingredient.name,
    name: ingredient.name,
    identity: identityOf(row, ingredient),
    href: hrefOf(row.id),
    revision: row.revision,
    putAway: row.archivedAt !== null,
    ranOut: row.ranOutAt === null ? "" : ranOutWords(onShelf, said),
    ranOutAsk: uses.some(({ published }) => published) ? ranOutAsk(uses) : "",
    notices: noticesOf(row, onShelf, said),
    facts: factsOf(row, onShelf, said),
    lots: shown.map((lot) => lotLine(lot, said)),
    moreLots: onShelf.length > shown.length,
    need,
    needFault,
    portions: (suggestion?.portions ?? []).map(({ lot, takeMg }) => ({
      take: sayMass(takeMg, locale),
      code: lot.code,
      href: lotHref(lot.id),
      keeps: lot.bestBefore === null ? "" : sayDay(lot.bestBefore, said),
    })),
    short: suggestion && suggestion.shortMg > 0 ? sayMass(suggestion.shortMg, locale) : "",
    standIns,
    askStandIns:
      standIns === undefined && uses.length > 0 ? `${hrefOf(row.id)}?standIn=1#stand-in` : "",
    uses: uses.map(({ id, name, published, draft }) => ({
      name: name || id,
      href: `/maker/products/${encodeURIComponent(id)}`,
      where: published ? (draft ? "for sale, and in its draft" : "for sale") : "in its draft",
    })),
    gone: gone.map((lot) => ({
      code: lot.code,
      href: lotHref(lot.id),
      received: sayDay(lot.receivedOn, said),
      state: lot.archivedAt === null ? "used up" : "put away",
    })),
    awayWords: awayWords(uses, onShelf, locale),
  };
}

function identityOf(row: IngredientRow, ingredient: Ingredient): string {
  const library = ingredientById(row.libraryId)!;
  const own = ingredient.name === library.name ? [] : [library.name];
  const refined = row.refined === "not-told" ? [] : [row.refined];
  return [...own, `INCI ${library.inci}`, ...refined].join(" · ");
}

function sumMg(lots: readonly LotRow[]): number {
  return lots.reduce((sum, { onHandMg }) => sum + onHandMg, 0);
}

function usableMg(lots: readonly LotRow[], today: string): number {
  return sumMg(lots.filter((lot) => !["past", "blocked"].includes(stateOfLot(lot, today))));
}

function noticesOf(row: IngredientRow, lots: readonly LotRow[], said: Said) {
  const usable = usableMg(lots, said.today);
  const listed = { row, onHandMg: sumMg(lots), usableMg: usable, nextBestBefore: null };
  const low = row.lowBelowMg !== null && usable < row.lowBelowMg;
  const inState = (state: "past" | "blocked" | "near", words: string) => {
    const there = lots.filter((lot) => stateOfLot(lot, said.today) === state);
    if (there.length === 0) return [];
    const mass = sayMass(sumMg(there), said.locale);
    return [
      { ...STATES[state], sentence: `${mass} in ${countWords(there.length, "lot")}: ${words}` },
    ];
  };
  return [
    ...(row.packMinor === null
      ? [
          {
            ...STATES.unpriced,
            sentence: "No product that holds it can be priced. Write what a pack costs.",
          },
        ]
      : []),
    ...inState("past", "not suggested any more. Write it off, or put the date right."),
    ...inState("blocked", "not suggested until it is unblocked."),
    ...(low ? [{ ...STATES.low, sentence: lowSentence(listed, said) }] : []),
    ...inState("near", "use it first."),
  ];
}

function factsOf(row: IngredientRow, lots: readonly LotRow[], said: Said) {
  const { currency, locale } = said;
  const pack =
    row.packMinor === null
      ? "no price yet"
      : `${helpers.money(row.packMinor, currency, locale)} for ${row.packText}`;
  const optional: [string, string][] = [
    ["Supplier", row.supplier],
    ["Scent", row.scent],
    ["Your greatest share", row.doseMostShare === null ? "" : helpers.percent(row.doseMostShare)],
    ["Note", row.note],
  ];
  const facts: [string, string][] = [
    ["On hand", lots.length === 0 ? "none" : sayMass(sumMg(lots), locale)],
    ["Of it to use", sayMass(usableMg(lots, said.today), locale)],
    ["Pack", pack],
    ["Per 100 g", priceOf(row, 100_000, said)],
    ["Per kg", priceOf(row, 1_000_000, said)],
    ...optional.filter(([, value]) => value !== ""),
  ];
  return facts.map(([what, value]) => ({ what, value }));
}

function lotLine(lot: LotRow, said: Said) {
  const state = STATES[stateOfLot(lot, said.today)];
  return {
    href: lotHref(lot.id),
    code: lot.code,
    supplier: lot.supplier,
    onHand: sayMass(lot.onHandMg, said.locale),
    bestBefore: sayDay(lot.bestBefore, said),
    received: sayDay(lot.receivedOn, said),
    mark: state.mark,
    state: state.word + (lot.certificate === null ? "" : ", certified"),
  };
}

/** Said while customers cannot choose it. */
function ranOutWords(lots: readonly LotRow[], said: Said): string {
  const usable = usableMg(lots, said.today);
  const there = usable === 0 ? "" : ` ${sayMass(usable, said.locale)} is here to use.`;
  return `Customers see it, and cannot choose it. Orders that are in stay as they are.${there}`;
}

/** Asked while they can. */
function ranOutAsk(uses: readonly ProductUse[]): string {
  const sold = uses.filter(({ published }) => published).map(({ name, id }) => name || id);
  return `None left, and none to be had soon? Then customers of ${sold.join(", ")} choose something else until it is back.`;
}

function awayWords(uses: readonly ProductUse[], lots: readonly LotRow[], locale: string): string {
  const used =
    uses.length === 0
      ? "No product names it."
      : `Still named by ${uses.map(({ name, id }) => name || id).join(", ")}: they keep it and can go on being sold.`;
  const left =
    lots.length === 0
      ? ""
      : ` ${sayMass(sumMg(lots), locale)} is still on hand, and stays on the books.`;
  return `${used}${left} You can put it back at any time.`;
}
