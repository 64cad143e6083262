/**
 * Tables in and out: the page of files, and the preview of one.
 */
import type { Fault } from "../typed/fault.ts";
import type { PlannedChange, Plan, RowFault } from "../shelf/file-plan.ts";
import { INGREDIENT_COLUMNS } from "../shelf/ingredients-file.ts";
import { LOT_COLUMNS } from "../shelf/lots-file.ts";
import type { Column } from "../shelf/table.ts";
import { DAY_ORDERS, type DayOrder } from "../shelf/days.ts";
import { UNITS } from "../shelf/amount.ts";
import { countWords } from "../words/count-words.ts";
import { faultLinks } from "./maker-shelf-words.ts";

export type FileKind = "ingredients" | "lots";

const KINDS: readonly { kind: FileKind; words: string; explained: string }[] = [
  { kind: "ingredients", words: "Ingredients", explained: "what you buy, with packs and prices" },
  { kind: "lots", words: "Lots", explained: "what arrived, and what is on hand by your count" },
];

const ORDER_WORDS: Readonly<Record<DayOrder, string>> = {
  "year-first": "Year first: 2026-11-25",
  "day-first": "Day first: 25/11/2026 or 25.11.2026",
  "month-first": "Month first: 11/25/2026",
};

const COLUMN_WORDS: Readonly<Partial<Record<string, string>>> = {
  id: "What products and lots call it. Leave it empty for something new.",
  ingredient: "Name, INCI name or id of the library; for lots, your own id or name.",
  name: "Yours. Empty means the library’s.",
  pack: `A number and one of ${UNITS.join(", ")}, such as 5 lb or 500 ml at 20 °C.`,
  price: "Of one pack, in the shop’s currency.",
  free: "“yes” where the price is zero because it costs you nothing.",
  refined: "refined, unrefined or not-told.",
  doseMost: "Your own limit in percent.",
  lowBelow: "An amount, such as 500 g.",
  code: "As on the pack. With the ingredient it says which lot the row is.",
  quantity: "An amount. What arrived never changes afterwards.",
  onHand: "What is there by your count. A difference becomes a movement.",
  receivedOn: "A day. Empty means today.",
  bestBefore: "A day, or empty.",
  cost: "For the whole lot.",
};

/** What is said of the columns, each once. */
function columnWords() {
  const all = new Map<string, Column>();
  for (const column of [...INGREDIENT_COLUMNS, ...LOT_COLUMNS]) all.set(column.key, column);
  return [...all.values()].flatMap(({ key, heading }) => {
    const words = COLUMN_WORDS[key];
    return words ? [{ heading, words }] : [];
  });
}

export function filesPage(kind: FileKind, order: DayOrder, faults: readonly Fault[]) {
  return {
    title: "Files in and out",
    overtaken: false,
    meanwhile: [],
    faults: faultLinks(faults),
    kinds: KINDS.map((each) => ({ ...each, chosen: each.kind === kind })),
    orders: DAY_ORDERS.map((each) => ({
      order: each,
      words: ORDER_WORDS[each],
      chosen: each === order,
    })),
    columns: columnWords(),
  };
}

const FAULTS_MOST = 200;
const CHANGES_MOST = 50;

export interface Previewed {
  readonly kind: FileKind;
  /** Address of the preview with its query. */
  readonly href: { readonly apply: string; readonly faults: string };
  readonly strange: readonly string[];
}

/** What a table would do. */
export function previewPage(plan: Plan<unknown>, { kind, href, strange }: Previewed) {
  const { fresh, changed, unchanged, faults, badRows } = plan;
  const good = fresh.length + changed.length;
  const few = <T>(list: readonly PlannedChange<T>[]) =>
    list.slice(0, CHANGES_MOST).map(({ row, title, differences }) => ({ row, title, differences }));
  const more = (list: readonly unknown[]) =>
    list.length > CHANGES_MOST ? `And ${list.length - CHANGES_MOST} more.` : "";
  return {
    title: "A table looked at",
    headline: headlineOf(good, badRows, unchanged),
    fault: "",
    counts: [
      { what: `New ${kind}`, value: fresh.length },
      { what: "Changed", value: changed.length },
      { what: "The same as on the shelf", value: unchanged },
      { what: "Rows to mend", value: badRows },
    ],
    strange,
    writes: good > 0,
    applyHref: href.apply,
    button:
      badRows > 0
        ? `Write the ${countWords(good, "good row")} only`
        : `Write ${countWords(good, "row")}`,
    promise:
      badRows > 0
        ? "Or write none: mend the file and bring it again. Rows written now will then be the same."
        : "Bringing the same table again changes nothing.",
    faults: faults.slice(0, FAULTS_MOST),
    faultWords: faultWords(faults, badRows),
    faultsHref: href.faults,
    changed: few(changed),
    moreChanged: more(changed),
    fresh: few(fresh),
    moreFresh: more(fresh),
  };
}

/** A table that cannot be read at all. */
export function unreadablePage(fault: string) {
  return { title: "A table looked at", headline: "This table cannot be read", fault };
}

function headlineOf(good: number, badRows: number, unchanged: number): string {
  if (good === 0 && badRows === 0) {
    return unchanged === 0 ? "The table has no rows" : "The shelf is as this table says";
  }
  if (good === 0) return `${countWords(badRows, "row")} to mend, and nothing to write`;
  if (badRows === 0) return `${countWords(good, "row")} ready to be written`;
  return `${countWords(good, "row")} ready, ${badRows} to mend`;
}

function faultWords(faults: readonly RowFault[], badRows: number): string {
  const said = `${countWords(faults.length, "fault")} in ${countWords(badRows, "row")}.`;
  return faults.length > FAULTS_MOST ? `${said} The first ${FAULTS_MOST} stand here.` : said;
}
