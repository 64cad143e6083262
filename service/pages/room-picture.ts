/**
 * The picture of a room as figures for the template: two shares against each other, every cell told by pattern and
 * letter, and the same in words row by row.
 */
import type { Base, Product } from "#core/compose/product.ts";
import type { Cell, Picture } from "#core/order/room/picture.ts";
import { REASONS, type Reason } from "#core/order/room/referee.ts";
import type { Desk } from "../products/desk.ts";
import { percentWords } from "../products/fields.ts";
import { REASON_WORDS, subjectName } from "../products/room-words.ts";

/** Side of a cell and room for the figures at the axes [px of the drawing] */
const CELL = 24;
const LEFT = 64;
const FOOT = 52;
const TOP = 8;

const LETTERS: Readonly<Record<Reason, string>> = {
  "too-soft": "S",
  "too-hard": "H",
  "softens-too-low": "W",
  "pore-rating-above": "P",
  "pore-rating-unrated": "U",
  "cannot-judge": "?",
  "skin-limit": "L",
};

export interface PictureAxes {
  readonly across: string;
  readonly up: string;
}

/** The two shares with the most room between their bounds; nothing when fewer than two can move. */
export function usualAxes({ butters, oils }: Base): PictureAxes | undefined {
  const movable = [
    ...butters.map((part) => ({ subject: part.ingredient, ...part })),
    ...oils.map((part) => ({ subject: part.place, ...part })),
  ]
    .filter(({ least, greatest }) => greatest > least)
    .toSorted((one, other) => other.greatest - other.least - (one.greatest - one.least));
  const [across, up] = movable;
  return across && up ? { across: across.subject, up: up.subject } : undefined;
}

/** Model of the drawing. */
export function pictureModel(
  picture: Picture,
  axes: PictureAxes,
  { product, desk }: { readonly product: Product; readonly desk: Desk },
) {
  const { across, up, rows } = picture;
  const [width, height] = [across.length * CELL, up.length * CELL];
  const names = {
    across: subjectName(axes.across, product, desk),
    up: subjectName(axes.up, product, desk),
  };
  return {
    names,
    viewBox: `0 0 ${LEFT + width + CELL} ${TOP + height + FOOT}`,
    frame: { x: LEFT, y: TOP, width, height },
    cells: rows.flatMap((row, at) =>
      row.map((cell, column) => ({
        x: LEFT + column * CELL,
        y: TOP + (up.length - 1 - at) * CELL,
        size: CELL,
        middleX: LEFT + column * CELL + CELL / 2,
        middleY: TOP + (up.length - 1 - at) * CELL + CELL / 2,
        ...shapeOf(cell),
      })),
    ),
    ticksAcross: ticks(across).map(({ at, words }) => ({
      x: LEFT + at * CELL + CELL / 2,
      y: TOP + height + 18,
      words,
    })),
    ticksUp: ticks(up).map(({ at, words }) => ({
      x: LEFT - 6,
      y: TOP + (up.length - 1 - at) * CELL + CELL / 2 + 4,
      words,
    })),
    labelAcross: { x: LEFT + width / 2, y: TOP + height + 42, words: `${names.across} →` },
    told: toldInShort(picture, names),
    table: up.map((share, at) => ({
      share: percentWords(share),
      words: rowWords(rows[at]!, across),
    })),
    legend: legendOf(picture),
  };
}

function shapeOf({ state, against }: Cell) {
  const [first] = against;
  return {
    state,
    passes: state === "passes",
    others: state === "passes-with-others",
    refused: state === "refused",
    pattern: state === "refused" && first ? first : "",
    letter: state === "refused" && first ? LETTERS[first] : "",
  };
}

function ticks(shares: readonly number[]) {
  const last = shares.length - 1;
  const places = [...new Set([0, Math.round(last / 2), last])];
  return places.map((at) => ({ at, words: percentWords(shares[at]!) }));
}

function toldInShort({ rows }: Picture, names: { readonly across: string; readonly up: string }) {
  const cells = rows.flat();
  const count = (state: Cell["state"]) => cells.filter((cell) => cell.state === state).length;
  const inside = cells.length - count("outside");
  return (
    `${names.across} from left to right, ${names.up} from bottom to top. Of ${inside} squares that can make 100 %, ` +
    `${count("passes")} can be ordered, ${count("passes-with-others")} only with other shares of the rest, ` +
    `and ${count("refused")} are refused. The table says the same.`
  );
}

/** Runs of one state along a row: "5 to 12 % can be ordered; 13 to 30 % too soft in use". */
function rowWords(row: readonly Cell[], across: readonly number[]): string {
  const runs: { from: number; to: number; words: string }[] = [];
  row.forEach((cell, at) => {
    const words = cellWords(cell);
    const last = runs.at(-1);
    if (last?.words === words) last.to = across[at]!;
    else runs.push({ from: across[at]!, to: across[at]!, words });
  });
  return runs
    .map(({ from, to, words }) => {
      const span = from === to ? percentWords(from) : `${from / 100} to ${percentWords(to)}`;
      return `${span}: ${words}`;
    })
    .join("; ");
}

function cellWords({ state, against }: Cell): string {
  if (state === "passes") return "can be ordered";
  if (state === "passes-with-others") return "with other shares of the rest";
  if (state === "outside") return "cannot make 100 %";
  return against.map((reason) => REASON_WORDS[reason]).join(" and ");
}

/** What is in the picture, and nothing else. */
function legendOf({ rows }: Picture) {
  const cells = rows.flat();
  const has = (state: Cell["state"]) => cells.some((cell) => cell.state === state);
  const first = new Set(
    cells.flatMap(({ state, against }) => (state === "refused" ? against.slice(0, 1) : [])),
  );
  const plain = { passes: false, others: false, pattern: "", letter: "" };
  return [
    ...(has("passes") ? [{ ...plain, passes: true, words: "can be ordered" }] : []),
    ...(has("passes-with-others")
      ? [{ ...plain, others: true, words: "can be ordered with other shares of the rest" }]
      : []),
    ...REASONS.filter((reason) => first.has(reason)).map((reason) => ({
      ...plain,
      pattern: reason as string,
      letter: LETTERS[reason],
      words: `refused: ${REASON_WORDS[reason]}`,
    })),
    ...(has("outside") ? [{ ...plain, words: "the rest cannot make 100 %" }] : []),
  ];
}
