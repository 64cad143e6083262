/**
 * The shelf's list: what to look at first, and then everything, page by page.
 */
import { ingredientById } from "#data/library.ts";
import { sayMass } from "../shelf/amount.ts";
import { NEAR_DAYS } from "../shelf/days.ts";
import type { ListedIngredient } from "../storage/ingredients.ts";
import type { LotWithIngredient } from "../storage/lots.ts";
import { countWords } from "../words/count-words.ts";
import { type Said, STATES, dateSentence, priceOf, sayDay } from "./maker-shelf-words.ts";

export interface Needs {
  readonly past: readonly LotWithIngredient[];
  readonly soon: readonly LotWithIngredient[];
  readonly blocked: readonly LotWithIngredient[];
  readonly ranOut: readonly ListedIngredient[];
  readonly low: readonly ListedIngredient[];
  readonly unpriced: readonly ListedIngredient[];
  /** Shown of each kind; a list one longer than this says that there are more. */
  readonly most: number;
}

export interface Searched {
  readonly words: string;
  readonly putAway: boolean;
  readonly after: string;
  readonly pageLength: number;
}

/** @param listed one more than the page holds when there is a next page */
export function shelfListPage(
  said: Said,
  listed: readonly ListedIngredient[],
  { words, putAway, after, pageLength }: Searched,
  needs: Needs,
) {
  const rows = listed.slice(0, pageLength);
  const here = (change: Readonly<Record<string, string>>) => {
    const query = {
      ...(words ? { q: words } : {}),
      ...(putAway ? { away: "yes" } : {}),
      ...change,
    };
    const text = new URLSearchParams(query).toString();
    return `/maker/shelf${text ? `?${text}` : ""}`;
  };
  const notices = after === "" && words === "" && !putAway ? noticesOf(needs, said) : [];
  const empty = emptyWords(words, putAway, after);
  return {
    title: "Shelf",
    headline: headlineOf(notices.length, needs, { words, putAway, after }, rows.length),
    notices,
    more: listsOf(needs).some((list) => list.length > needs.most),
    nearDays: NEAR_DAYS,
    words,
    putAway,
    searchLabel: "Name, INCI name or supplier",
    clearHref: putAway ? "/maker/shelf?away=yes" : "/maker/shelf",
    caption: putAway ? "What was put away" : "What stands on the shelf",
    rows: rows.map((row) => lineOf(row, said)),
    nextHref: listed.length > pageLength ? here({ after: rows.at(-1)!.row.id }) : "",
    pageLength,
    empty,
  };
}

const listsOf = ({ past, soon, blocked, ranOut, low, unpriced }: Needs) => [
  ...[past, soon, blocked],
  ...[ranOut, low, unpriced],
];

function headlineOf(
  notices: number,
  needs: Needs,
  { words, putAway, after }: Pick<Searched, "words" | "putAway" | "after">,
  rows: number,
): string {
  if (words !== "") return `“${words}” on the shelf`;
  if (putAway) return "Put away";
  if (after !== "") return "The shelf, further on";
  const more = listsOf(needs).some((list) => list.length > needs.most) ? "more than " : "";
  if (notices > 0)
    return `${more}${countWords(notices, "thing")} to look at on the shelf`.replace(/^m/, "M");
  return rows === 0 ? "Fill the shelf" : "The shelf is in order";
}

function emptyWords(words: string, putAway: boolean, after: string): string {
  if (words !== "") return "Nothing here by that name. Try one word of it.";
  if (putAway) return "Nothing was put away.";
  if (after !== "") return "That was the last of it.";
  return (
    "Nothing here yet. Add what you buy from the library, with your own name, supplier and price: " +
    "prices are made from it, and every jar can be traced to its lots."
  );
}

function lineOf({ row, onHandMg, nextBestBefore }: ListedIngredient, said: Said) {
  const known = ingredientById(row.libraryId);
  return {
    href: hrefOf(row.id),
    name: row.name || (known?.name ?? row.libraryId),
    inci: known?.inci ?? "no longer in the library",
    supplier: row.supplier,
    onHand: onHandMg === 0 ? "none" : sayMass(onHandMg, said.locale),
    per100g: priceOf(row, 100_000, said),
    perKg: row.packMinor === null ? "no price" : priceOf(row, 1_000_000, said),
    bestBefore: nextBestBefore === null ? "–" : sayDay(nextBestBefore, said),
  };
}

export const hrefOf = (id: string) => `/maker/shelf/${encodeURIComponent(id)}`;
export const lotHref = (id: string) => `/maker/shelf/lots/${encodeURIComponent(id)}`;

/** The most pressing first. */
function noticesOf(needs: Needs, said: Said) {
  const few = <T>(list: readonly T[]) => list.slice(0, needs.most);
  const nameOf = (libraryId: string, name: string) =>
    name || (ingredientById(libraryId)?.name ?? libraryId);
  const ofLot = (state: keyof typeof STATES, sentence: (lot: LotWithIngredient) => string) =>
    function lotNotice(each: LotWithIngredient) {
      const what = `${nameOf(each.libraryId, each.name)}, lot ${each.lot.code}`;
      return { ...STATES[state], what, href: lotHref(each.lot.id), sentence: sentence(each) };
    };
  const ofIngredient = (state: keyof typeof STATES, sentence: (one: ListedIngredient) => string) =>
    function ingredientNotice(each: ListedIngredient) {
      const what = nameOf(each.row.libraryId, each.row.name);
      return { ...STATES[state], what, href: hrefOf(each.row.id), sentence: sentence(each) };
    };
  const left = ({ lot }: LotWithIngredient) => sayMass(lot.onHandMg, said.locale);
  const dated = (each: LotWithIngredient) =>
    `${left(each)}, ${dateSentence(each.lot.bestBefore!, said)}.`;
  return [
    ...few(needs.past).map(ofLot("past", dated)),
    ...few(needs.blocked).map(
      ofLot("blocked", (each) => `${left(each)}. ${each.lot.blockedBecause ?? ""}`),
    ),
    ...few(needs.ranOut).map(
      ofIngredient("ranOut", () => "Customers cannot choose it until you say that it is back."),
    ),
    ...few(needs.low).map(ofIngredient("low", (each) => lowSentence(each, said))),
    ...few(needs.soon).map(ofLot("near", dated)),
    ...few(needs.unpriced).map(
      ofIngredient("unpriced", () => "No product that holds it can be priced."),
    ),
  ];
}

export function lowSentence({ row, usableMg }: ListedIngredient, { locale }: Said): string {
  const left = usableMg === 0 ? "nothing" : sayMass(usableMg, locale);
  return `${left} to use, and you asked to be told below ${sayMass(row.lowBelowMg!, locale)}.`;
}
