/**
 * What the customer has chosen so far, and how one act changes it. Pure: state + act -> state.
 *
 * Moving one share several times in a row is one *run*: every move of a run is reckoned from where
 * the run began, so that plus and then minus, or a slider drawn out and back, end exactly where
 * they started. One undo takes back a whole run.
 */
import {
  type Base,
  type BaseButter,
  type BasePlace,
  type Bound,
  type Choice,
  allowedAt,
  startingChoice,
} from "#core/compose/product.ts";
import { rebalance } from "#core/compose/rebalance.ts";
import type { ProductOffer } from "#core/wire.ts";

export interface ComposerState {
  readonly offer: ProductOffer;
  readonly choice: Choice;
  readonly jar: string;
  readonly quantity: number;
  /** Earlier choices, oldest first. */
  readonly past: readonly Choice[];
  /** Choices that were undone, the one to redo first last; a new move forgets them. */
  readonly future: readonly Choice[];
  /** What was left behind in each base, so that going back to it loses nothing. */
  readonly drafts: Readonly<Record<string, Choice>>;
  readonly run?: { readonly row: number; readonly start: Choice };
  /** Row that wanted to move and could not, because the others have no room. */
  readonly stuckRow?: number;
}

export type Act =
  | { readonly kind: "choose-base"; readonly base: string }
  | { readonly kind: "swap-oil"; readonly place: string; readonly ingredient: string }
  /** `share` in hundredths of a percent; may lie outside the bound, it is held at the end. */
  | { readonly kind: "move-share"; readonly row: number; readonly share: number }
  /** The slider was let go: the next move starts a new run. */
  | { readonly kind: "settle" }
  | { readonly kind: "choose-jar"; readonly jar: string }
  | { readonly kind: "set-quantity"; readonly quantity: number }
  | { readonly kind: "undo" }
  | { readonly kind: "redo" }
  /** Take a blend that was offered; what does not fit the product is refused before it gets here. */
  | { readonly kind: "take-offer"; readonly choice: Choice }
  | { readonly kind: "back-to-base" };

/** One butter, oil place or additive, as the page shows it. */
export interface Row extends Bound {
  /** Oil place; nothing for the others. */
  readonly place?: string;
  readonly ingredient: string;
  /** [hundredths of a percent] */
  readonly share: number;
  /** The maker's own share [hundredths of a percent] */
  readonly makerShare: number;
  readonly locked: boolean;
}

const PAST_MOST = 100;

/**
 * Start from the product's first base, first jar, one jar.
 * @throws when the offer has no base or no jar: such a product cannot be published
 */
export function openComposer(offer: ProductOffer): ComposerState {
  const base = offer.product.bases[0];
  const jar = offer.product.jars[0];
  if (!base || !jar) throw new RangeError("an offer needs a base and a jar");
  const choice = startingChoice(base);
  return { offer, choice, jar: jar.id, quantity: 1, past: [], future: [], drafts: {} };
}

/**
 * What follows from an act. Acts that change nothing, or make no sense, give back the same state.
 */
export function act(state: ComposerState, doing: Act): ComposerState {
  switch (doing.kind) {
    case "choose-base":
      return chooseBase(state, doing.base);
    case "swap-oil":
      return swapOil(state, doing.place, doing.ingredient);
    case "move-share":
      return moveShare(state, doing.row, doing.share);
    case "settle":
      return withoutRun(state);
    case "choose-jar":
      return state.offer.product.jars.some(({ id }) => id === doing.jar)
        ? { ...withoutRun(state), jar: doing.jar }
        : state;
    case "set-quantity":
      return isQuantity(state, doing.quantity)
        ? { ...withoutRun(state), quantity: doing.quantity }
        : state;
    case "undo": {
      const before = state.past.at(-1);
      if (!before) return state;
      const future = [...state.future, state.choice];
      return { ...withoutRun(state), choice: before, past: state.past.slice(0, -1), future };
    }
    case "redo": {
      const after = state.future.at(-1);
      if (!after) return state;
      const past = [...state.past, state.choice];
      return { ...withoutRun(state), choice: after, past, future: state.future.slice(0, -1) };
    }
    case "take-offer":
      return remember(state, doing.choice);
    case "back-to-base":
      return isMakersBase(state) ? state : remember(state, startingChoice(baseOf(state)));
  }
}

/** The base the customer is working from. */
export function baseOf({ offer, choice }: ComposerState): Base {
  const base = offer.product.bases.find(({ id }) => id === choice.base);
  if (!base) throw new RangeError(`no base ${choice.base}`);
  return base;
}

/** Butters, then oil places, in the order of the base; then the additives, which never move. */
export function rowsOf(state: ComposerState, choice = state.choice): Row[] {
  const base = baseOf({ ...state, choice });
  return [
    ...base.butters.map((butter, at) => rowOf(butter, choice.butters[at]!)),
    ...base.oils.map((oil, at) => rowOf(oil, choice.oils[at]!)),
    ...state.offer.product.additives.map((additive) =>
      rowOf({ ...additive, least: additive.share, greatest: additive.share }, additive),
    ),
  ];
}

/** Whether the choice is the maker's base, untouched. */
export function isMakersBase(state: ComposerState): boolean {
  return isSame(state.choice, startingChoice(baseOf(state)));
}

/** Whether a number of jars may be ordered. */
export function isQuantity({ offer }: ComposerState, quantity: number): boolean {
  return Number.isInteger(quantity) && quantity >= 1 && quantity <= offer.product.quantityMost;
}

function rowOf(maker: BaseButter | BasePlace, chosen: { ingredient: string; share: number }): Row {
  return {
    ...maker,
    ...chosen,
    makerShare: maker.share,
    locked: maker.least >= maker.greatest,
  };
}

function chooseBase(state: ComposerState, id: string): ComposerState {
  const base = state.offer.product.bases.find((each) => each.id === id);
  if (!base || id === state.choice.base) return state;
  const drafts = { ...state.drafts, [state.choice.base]: state.choice };
  return { ...remember(state, state.drafts[id] ?? startingChoice(base)), drafts };
}

function swapOil(state: ComposerState, place: string, ingredient: string): ComposerState {
  if (!allowedAt(state.offer.product, place).includes(ingredient)) return state;
  const oils = state.choice.oils.map((oil) => (oil.place === place ? { ...oil, ingredient } : oil));
  return remember(state, { ...state.choice, oils });
}

function moveShare(state: ComposerState, at: number, wanted: number): ComposerState {
  const ongoing = state.run?.row === at ? state.run : undefined;
  const start = ongoing?.start ?? state.choice;
  const rows = rowsOf(state, start);
  const moved = rows[at];
  if (!moved || moved.locked || !Number.isSafeInteger(wanted)) return state;
  const choice = withShares(start, rebalance(rows, at, wanted));
  const held = Math.min(moved.greatest, Math.max(moved.least, wanted));
  if (isSame(choice, state.choice)) {
    const now = rowsOf(state)[at]!.share;
    const { stuckRow: _, ...free } = state;
    return held === now ? free : { ...free, stuckRow: at };
  }
  const base = ongoing ? state : remember(state, choice);
  const { stuckRow: _, ...free } = base;
  return { ...free, choice, run: { row: at, start } };
}

function withShares(choice: Choice, shares: readonly number[]): Choice {
  const butters = choice.butters.length;
  return {
    ...choice,
    butters: choice.butters.map((butter, at) => ({ ...butter, share: shares[at]! })),
    oils: choice.oils.map((oil, at) => ({ ...oil, share: shares[butters + at]! })),
  };
}

function remember(state: ComposerState, choice: Choice): ComposerState {
  if (isSame(choice, state.choice)) return state;
  const past = [...state.past, state.choice].slice(-PAST_MOST);
  return { ...withoutRun(state), choice, past, future: [] };
}

function withoutRun({ run: _run, stuckRow: _stuck, ...rest }: ComposerState): ComposerState {
  return rest;
}

function isSame(one: Choice, other: Choice): boolean {
  const isSameAt = (parts: Choice["butters"], others: Choice["butters"]) =>
    parts.every(({ ingredient, share }, at) => {
      const there = others[at];
      return there?.ingredient === ingredient && there.share === share;
    });
  if (one === other) return true;
  // The rows of a base are always the same, in the same order.
  return (
    one.base === other.base &&
    isSameAt(one.butters, other.butters) &&
    isSameAt(one.oils, other.oils)
  );
}
