/**
 * The words for wishes: what an offer gains and gives up, or why no blend can.
 */
import type { WishConflict } from "./wishes/conflicts.ts";
import type { Trade } from "./wishes/telling.ts";
import type { Wish } from "./wishes/wish.ts";

/** Names of ingredients and allergen families, and amounts of money as the shop writes them. */
export interface WishNames {
  readonly nameOf: (subject: string) => string;
  readonly money: (minor: number) => string;
}

/** "softer, without sesame"; empty when nothing is gained. No capital and no full stop. */
export function sayGains(gains: readonly Trade[], names: WishNames): string {
  return gains.map((gain) => sayTrade(gain, names)).join(", ");
}

/** "gives up: a shade dearer, 2 % more cocoa butter"; empty when nothing is given up. */
export function sayGives(gives: readonly Trade[], names: WishNames): string {
  if (gives.length === 0) return "";
  return `gives up: ${gives.map((each) => sayTrade(each, names)).join(", ")}`;
}

function sayTrade({ code, subject = "", from, to }: Trade, { nameOf, money }: WishNames): string {
  const name = inSentence(nameOf(subject));
  switch (code) {
    case "softer":
    case "firmer":
      return `${code} at home`;
    case "thinner":
    case "richer":
      return `a ${code} oil phase`;
    case "partly-softer":
    case "partly-firmer":
    case "partly-thinner":
    case "partly-richer":
      return `only part of the way to ${code.slice("partly-".length)}`;
    case "oil-phase-untold":
      return "nobody can tell how thick its oil phase is";
    case "holds-warmer":
      return `keeps its body to ${celsius(to)}`;
    case "holds-less-warm":
      return `keeps its body only to ${celsius(to)} instead of ${celsius(from)}`;
    case "rated-lower":
      return `pore rating ${to} at most`;
    case "rated-higher":
      return `pore rating ${to}${from === undefined ? "" : ` instead of ${from}`}`;
    case "unrated":
      return `${name} has no pore rating that counts`;
    case "without":
    case "without-family":
      return `without ${name}`;
    case "brings-family":
      return `brings ${name}`;
    case "unscented":
      return "no scent of its own";
    case "scent-untold":
      return `the scent of ${name} is not on record`;
    case "cheaper":
      return from === undefined || from <= to! ? `${money(to!)} a jar` : `cheaper, ${money(to!)}`;
    case "dearer":
      return `${howMuch(from!, to!)} dearer, ${money(to!)}`;
    case "share":
      return sayShare(from!, to!, name);
  }
}

/** Up to a twentieth is a shade, up to a seventh somewhat, more is much (own cut). */
function howMuch(from: number, to: number): string {
  const ratio = to / from;
  return ratio <= 1.05 ? "a shade" : ratio <= 1.15 ? "somewhat" : "much";
}

function sayShare(from: number, to: number, name: string): string {
  if (to === 0) return `no ${name} instead of ${percent(from)}`;
  if (from === 0) return `${percent(to)} ${name} added`;
  return to < from ? `${percent(from - to)} less ${name}` : `${percent(to - from)} more ${name}`;
}

/** One sentence of a wish that stands in the way. */
export function sayWishConflict(
  { wish, against, subjects, couldBe }: WishConflict,
  names: WishNames,
): string {
  const said = sayWish(wish, names);
  const who = subjects.map((id) => inSentence(names.nameOf(id))).join(", ");
  if (against === "always-in-the-jar") return `No blend can be ${said}: every jar holds ${who}.`;
  if (against === "scent-untold") {
    return `No blend can be called ${said}: the scent of ${who} is not on record.`;
  }
  const could =
    couldBe === undefined
      ? ""
      : wish.wish === "holds-to"
        ? `; ${celsius(couldBe)} could be done`
        : `; ${couldBe} could be done`;
  return `No blend here can be ${said} with all else as it is wished${could}.`;
}

/** Where it takes more than one wish to let a blend through. */
export const SEVERAL_WISHES_MUST_GIVE =
  "No blend here can be all of this; more than one wish would have to go.";

/** Where no blend of the base passes, wishes or not. */
export const NOTHING_TO_WISH_FOR =
  "No blend of this base passes the maker's rules at the moment, whatever is wished.";

/** A wish as the end of "no blend can be ...". */
export function sayWish(wish: Wish, { nameOf, money }: WishNames): string {
  switch (wish.wish) {
    case "feel":
      return `${wish.way} at home`;
    case "oil-phase":
      return `${wish.way} in its oil phase`;
    case "holds-to":
      return `sure to keep its body to ${celsius(wish.celsius)}`;
    case "pore-rating":
      return `rated ${wish.most} at most`;
    case "without":
      return `without ${inSentence(nameOf(wish.ingredient))}`;
    case "without-family":
      return `without ${inSentence(nameOf(wish.family))}`;
    case "unscented":
      return "unscented";
    case "price":
      return `had for ${money(wish.mostMinor)} at most`;
  }
}

/** Rounded down, so that nothing is promised that is not there. */
function celsius(value: number | undefined): string {
  return `${Math.floor(10 * (value ?? NaN)) / 10} °C`;
}

function percent(share: number): string {
  return `${share / 100} %`;
}

/** "Cocoa butter" inside a sentence: a small letter, unless more than the first is a capital. */
function inSentence(name: string): string {
  const [first = "", second = ""] = name;
  return second === second.toLowerCase() ? first.toLowerCase() + name.slice(1) : name;
}
