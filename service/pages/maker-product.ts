/**
 * What stands at the head of every sheet of a product: its state, its sheets, and the next thing to do.
 */
import type { OpenProduct } from "../products/open-product.ts";
import type { Obstacle } from "../products/readiness.ts";
import type { Sheet } from "../products/draft-shape.ts";
import { momentIn } from "./maker-pages.ts";

/** The sheets in their order, and what they are called. */
const SHEET_WORDS: readonly (readonly [sheet: Sheet, words: string])[] = [
  ["words", "Name and words"],
  ["oils", "Oil places"],
  ["bases", "Bases"],
  ["additives", "Additives"],
  ["jars", "Jars"],
  ["rules", "Rules"],
  ["price", "Price"],
  ["label", "Label"],
  ["room", "Room"],
];

/** A state by shape and by word. */
const STATES = {
  mend: { mark: "▲", state: "to mend" },
  open: { mark: "○", state: "not looked at" },
  done: { mark: "●", state: "done" },
  look: { mark: "◇", state: "to look at" },
} as const;

export function productHref(id: string): string {
  return `/maker/products/${encodeURIComponent(id)}`;
}

/** Where an obstacle is mended. */
export function obstacleLink(id: string, { sheet, base, sentence }: Obstacle) {
  const path = base ? `bases/${encodeURIComponent(base)}` : sheet;
  return { href: `${productHref(id)}/${path}`, sheet: wordsOf(sheet), sentence };
}

export function wordsOf(sheet: Sheet): string {
  return SHEET_WORDS.find(([each]) => each === sheet)![1];
}

/** The sheet after this one. */
export function sheetAfter(sheet: Sheet): Sheet {
  const at = SHEET_WORDS.findIndex(([each]) => each === sheet);
  return SHEET_WORDS[Math.min(at + 1, SHEET_WORDS.length - 1)]![0];
}

/** Model of the head; `title` of the page comes with it. */
export function productHead(open: OpenProduct, here: Sheet | "publish" | "overview", part = "") {
  const { product, example = false } = open.stored.document;
  const href = productHref(product.id);
  const name = product.name || "A product without a name";
  const sheets = SHEET_WORDS.map(([sheet, words]) => ({
    href: `${href}/${sheet}`,
    words,
    here: sheet === here,
    ...STATES[stateOf(sheet, open)],
  }));
  const publish = { href: `${href}/publish`, words: "Publish", here: here === "publish" };
  const [first] = open.obstacles;
  const link = first && obstacleLink(product.id, first);
  const count = open.obstacles.length;
  return {
    title: [part || headingOf(here), name].filter(Boolean).join(", "),
    head: {
      id: product.id,
      name,
      part,
      href,
      example,
      sale: saleWords(open),
      differs: differsWords(open),
      sheets: [...sheets, { ...publish, ...STATES[count > 0 ? "mend" : "look"] }],
      count:
        count === 1 ? "One thing stands in the way:" : `${count} things stand in the way. First:`,
      next: link?.sentence ?? "",
      nextHref: link?.href ?? "",
      nextWords: link?.sheet ?? "",
    },
  };
}

function headingOf(here: Sheet | "publish" | "overview"): string {
  if (here === "overview") return "";
  return here === "publish" ? "Publish" : wordsOf(here);
}

function stateOf(sheet: Sheet, { obstacles, stored }: OpenProduct): keyof typeof STATES {
  if (sheet === "room") return "look";
  if (obstacles.some((each) => each.sheet === sheet)) return "mend";
  const { stage = [] } = stored.document;
  return stored.revision === 0 || stage.includes(sheet) ? "done" : "open";
}

function saleWords({ row, version, desk }: OpenProduct): string {
  if (row.archivedAt !== null) return "Put away: not in the shop.";
  if (!version) return "A draft: never published.";
  const when = momentIn(desk.shop)(version.publishedAt);
  if (row.publishedVersion === null)
    return `Not for sale. Version ${version.number} is of ${when}.`;
  return `For sale: version ${version.number} of ${when}.`;
}

function differsWords({ version }: OpenProduct): string {
  if (!version || version.differences.length === 0) return "";
  return `The draft differs from version ${version.number}.`;
}
