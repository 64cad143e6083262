/**
 * The words for wishes: what an offer gains and gives up, or why no blend can.
 */
import { ENGLISH, type Speech, fill, inSentence, nameFamily } from "../words/words.ts";
import * as english from "../words/wishes.en.json";
import { sayChanges } from "./nearest-words.ts";
import type { WishConflict } from "./wishes/conflicts.ts";
import type { Trade, TradeCode } from "./wishes/telling.ts";
import type { Wish } from "./wishes/wish.ts";

type TradeWords =
  | Exclude<TradeCode, "without-family" | "brings-family" | "dearer" | "share">
  | `${"a-shade" | "somewhat" | "much"}-dearer`
  | "brings"
  | "gives"
  | "price"
  | "rated";

/** Sentences of one language; `core/words/wishes.<language>.json`. */
export interface WishWords {
  readonly trades: Readonly<Record<TradeWords, string>>;
  readonly wishes: Readonly<Record<WishKey, string>>;
  readonly conflicts: Readonly<
    Record<WishConflict["against"] | "could-be" | "warmth" | "several" | "nothing", string>
  >;
}

type Feel = Extract<Wish, { way: unknown }>["way"];
type WishKey = Feel | Exclude<Wish["wish"], "feel" | "oil-phase" | "without-family">;

export interface WishSpeech extends Speech<"changes" | "families" | "namesInSentence"> {
  readonly wishes: WishWords;
}

const ENGLISH_WISHES: WishSpeech = { ...ENGLISH, wishes: english };

/** Names of ingredients, and figures as the shop writes them. */
export interface WishNames {
  readonly nameOf: (ingredient: string) => string;
  readonly money: (minor: number) => string;
  /** A share [hundredths of a percent]; "2 %" when not said. */
  readonly percent?: (share: number) => string;
  /** English when not said. */
  readonly speech?: WishSpeech;
}

/** "softer, without sesame"; empty when nothing is gained. No capital and no full stop. */
export function sayGains(gains: readonly Trade[], names: WishNames): string {
  return gains.map((gain) => sayTrade(gain, names)).join(", ");
}

/** "gives up: a shade dearer, 2 % more cocoa butter"; empty when nothing is given up. */
export function sayGives(gives: readonly Trade[], names: WishNames): string {
  if (gives.length === 0) return "";
  const list = gives.map((each) => sayTrade(each, names)).join(", ");
  return fill(speechOf(names).wishes.trades.gives, { list });
}

function sayTrade({ code, subject = "", from, to }: Trade, names: WishNames): string {
  const { nameOf, money, percent } = names;
  const speech = speechOf(names);
  const say = (key: TradeWords, figures: Readonly<Record<string, string>> = {}) =>
    fill(speech.wishes.trades[key], figures);
  const name = () => inSentence(nameOf(subject), speech);
  const warmth = (value = NaN) => speech.number(floorTenth(value));
  switch (code) {
    case "holds-warmer":
      return say(code, { to: warmth(to) });
    case "holds-less-warm":
      return say(code, { to: warmth(to), from: warmth(from) });
    case "rated-lower":
      return say(code, { to: speech.number(to!) });
    case "rated-higher":
      return from === undefined
        ? say("rated", { to: speech.number(to!) })
        : say(code, { to: speech.number(to!), from: speech.number(from) });
    case "unrated":
    case "without":
    case "scent-untold":
      return say(code, { name: name() });
    case "without-family":
      return say("without", { name: nameFamily(subject, speech) });
    case "brings-family":
      return say("brings", { name: nameFamily(subject, speech) });
    case "cheaper":
      return say(from === undefined || from <= to! ? "price" : code, { to: money(to!) });
    case "dearer":
      return say(`${howMuch(from!, to!)}-dearer`, { to: money(to!) });
    case "share":
      return sayChanges([{ ingredient: subject, from: from!, to: to! }], nameOf, percent, speech);
    default:
      return say(code);
  }
}

/** Up to a twentieth is a shade, up to a seventh somewhat, more is much (own cut). */
function howMuch(from: number, to: number): "a-shade" | "somewhat" | "much" {
  const ratio = to / from;
  return ratio <= 1.05 ? "a-shade" : ratio <= 1.15 ? "somewhat" : "much";
}

/** One sentence of a wish that stands in the way. */
export function sayWishConflict(
  { wish, against, subjects, couldBe }: WishConflict,
  names: WishNames,
): string {
  const speech = speechOf(names);
  const { conflicts } = speech.wishes;
  const said = sayWish(wish, names);
  if (against === "rules-and-bounds" && couldBe !== undefined) {
    const figure = speech.number(floorTenth(couldBe));
    const could = wish.wish === "holds-to" ? fill(conflicts.warmth, { could: figure }) : figure;
    return fill(conflicts["could-be"], { wish: said, could });
  }
  const who = subjects.map((id) => inSentence(names.nameOf(id), speech)).join(", ");
  return fill(conflicts[against], { wish: said, names: who });
}

/** Where no single wish stands in the way: more than one would have to go, or the rules let nothing through. */
export function sayNoneMet(isOrderable: boolean, names: Pick<WishNames, "speech"> = {}): string {
  const { several, nothing } = speechOf(names).wishes.conflicts;
  return isOrderable ? several : nothing;
}

/** A wish as it stands after "no blend can be ..." or a colon. */
export function sayWish(wish: Wish, names: WishNames): string {
  const speech = speechOf(names);
  const { wishes } = speech.wishes;
  switch (wish.wish) {
    case "feel":
    case "oil-phase":
      return wishes[wish.way];
    case "holds-to":
      return fill(wishes["holds-to"], { celsius: speech.number(floorTenth(wish.celsius)) });
    case "pore-rating":
      return fill(wishes["pore-rating"], { most: speech.number(wish.most) });
    case "without":
      return fill(wishes.without, { name: inSentence(names.nameOf(wish.ingredient), speech) });
    case "without-family":
      return fill(wishes.without, { name: nameFamily(wish.family, speech) });
    case "unscented":
      return wishes.unscented;
    case "price":
      return fill(wishes.price, { price: names.money(wish.mostMinor) });
  }
}

function speechOf({ speech = ENGLISH_WISHES }: Pick<WishNames, "speech">): WishSpeech {
  return speech;
}

/** Rounded down, so that nothing is promised that is not there. */
function floorTenth(value: number): number {
  return Math.floor(10 * value) / 10;
}
