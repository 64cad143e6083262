/**
 * A picture of the room: two shares against each other, with the oils fixed and the other shares following.
 *
 * In each cell the others first stand as near to the maker's own as the whole allows: what is over is given, or what
 * is short is taken, in proportion to the room they have inside their bounds. Where that is refused, a few other
 * divisions are tried, spread evenly, and the cell says when one of them passes.
 */
import { intoBounds } from "../../compose/into-bounds.ts";
import type { Bound, Product } from "../../compose/product.ts";
import { latticeOf } from "./lattice.ts";
import { BIT, REASONS, type Reason, type Referee, refereeOf } from "./referee.ts";
import { type RoomGround, judgingGround } from "./room.ts";
import { chanceFrom, evenPoints } from "./sequence.ts";
import { type Point, type Space, pointIn, spaceOf } from "./space.ts";
import { type Slices, sliced } from "./stepper.ts";

export interface PictureQuestion {
  readonly base: string;
  /** Ingredient id of a butter, or id of a place: left to right, and bottom to top. */
  readonly across: string;
  readonly up: string;
  /** Oil by place; the maker's own where not said. */
  readonly oils?: Readonly<Record<string, string>>;
  /** Cells along each side, at most; 24 when not said. */
  readonly cells?: number;
  readonly seed?: number;
}

export interface Cell {
  /**
   * Passes with the others as near as can be to the maker's own; passes with others only; refused with all that were
   * tried; or outside, where the others cannot make the whole.
   */
  readonly state: "passes" | "passes-with-others" | "refused" | "outside";
  /** What stands against it with the others nearest, in the order of `REASONS`; empty when it passes or is outside. */
  readonly against: readonly Reason[];
}

export interface Picture {
  /** Shares of the columns, least first, and of the rows [hundredths of a percent] */
  readonly across: readonly number[];
  readonly up: readonly number[];
  /** By row, then column. */
  readonly rows: readonly (readonly Cell[])[];
  /** Which oil stands in each place. */
  readonly oils: Readonly<Record<string, string>>;
}

const USUAL_CELLS = 24;
/** Other divisions tried in a refused cell. */
const TRIES = 12;

/**
 * Draw a picture.
 * @throws RangeError when base, shares or oils are not the product's, or both shares are the same
 */
export function openPicture(
  product: Product,
  ground: RoomGround,
  question: PictureQuestion,
): Slices<Picture> {
  const base = product.bases.find(({ id }) => id === question.base);
  if (!base) throw new RangeError(`no base ${question.base}`);
  const space = spaceOf(product, base, ground.ingredientOf);
  const at = [question.across, question.up].map((subject) =>
    space.slots.findIndex((slot) => slot.subject === subject),
  );
  if (at.includes(-1) || at[0] === at[1]) throw new RangeError("no two shares to draw");
  const point = pointIn(space);
  point.options.set(optionsOf(space, question.oils ?? {}));
  const [columns, rows] = at.map((slot) =>
    stops(space.slots[slot]!, question.cells ?? USUAL_CELLS),
  );
  const referee = refereeOf(space, judgingGround(product, ground));
  const chance = chanceFrom(question.seed ?? 1);
  function* work(): Generator<undefined, Picture> {
    const drawn: Cell[][] = [];
    for (const up of rows!) {
      const row: Cell[] = [];
      for (const across of columns!) {
        const locked = new Map([
          [at[0]!, across],
          [at[1]!, up],
        ]);
        row.push(yield* drawCell(space, referee, point, locked, chance));
      }
      drawn.push(row);
    }
    const oils = space.slots.flatMap(({ kind, subject, options }, slot) =>
      kind === "place"
        ? [[subject, space.ingredients[options[point.options[slot]!]!]!.id] as const]
        : [],
    );
    return { across: columns!, up: rows!, rows: drawn, oils: Object.fromEntries(oils) };
  }
  return sliced(work(), columns!.length * rows!.length);
}

/** Shares from end to end of a bound, evenly, each once. */
function stops({ least, greatest }: Bound, cells: number): number[] {
  const count = Math.max(1, Math.min(cells, greatest - least + 1));
  return Array.from({ length: count }, (_, i) =>
    count === 1 ? least : Math.round(least + (i * (greatest - least)) / (count - 1)),
  );
}

function* drawCell(
  space: Space,
  referee: Referee,
  point: Point,
  locked: ReadonlyMap<number, number>,
  chance: () => number,
): Generator<undefined, Cell> {
  const bounds = space.slots.map((slot, at): Bound => {
    const share = locked.get(at);
    return share === undefined ? slot : { least: share, greatest: share };
  });
  const own = space.slots.map(({ share }) => share);
  const near = intoBounds(own, bounds, space.total);
  if (!near) return { state: "outside", against: [] };
  point.shares.set(near);
  const { against } = referee.judge(point);
  yield;
  if (against === 0) return { state: "passes", against: [] };
  const reasons = REASONS.filter((reason) => against & BIT[reason]);
  const lattice = latticeOf(bounds, space.total);
  const next = evenPoints(lattice.dimensions, chance);
  const at = new Float64Array(lattice.dimensions);
  for (let i = 0; i < TRIES; i++) {
    next(at);
    lattice.draw(at, point.shares);
    const ruling = referee.judge(point);
    yield;
    if (ruling.against === 0) return { state: "passes-with-others", against: reasons };
  }
  return { state: "refused", against: reasons };
}

function optionsOf({ slots, ingredients }: Space, oils: Readonly<Record<string, string>>) {
  return slots.map(({ kind, subject, options, own }) => {
    const wanted = kind === "place" ? oils[subject] : undefined;
    if (wanted === undefined) return own;
    const option = options.findIndex((at) => ingredients[at]!.id === wanted);
    if (option < 0) throw new RangeError(`${wanted} is not allowed in ${subject}`);
    return option;
  });
}
