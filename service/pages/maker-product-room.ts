/**
 * The room of a product: how much of what the bounds allow can be ordered, what cuts it, and where its ends lie.
 */
import type { Base, Product } from "#core/compose/product.ts";
import type { BaseRoom } from "#core/order/room/base-room.ts";
import type { RoomBlend } from "#core/order/room/extremes.ts";
import type { RoomReport } from "#core/order/room/room.ts";
import { TRIAL_RANGE, TRIAL_USUAL_G } from "../batches/trial.ts";
import { dateWords, money } from "../documents/figures.ts";
import { type Desk, nameOf } from "../products/desk.ts";
import type { OpenProduct } from "../products/open-product.ts";
import {
  REASON_WORDS,
  boundWords,
  changeWords,
  choiceWords,
  estimateWords,
  oilWords,
  percent,
  subjectName,
} from "../products/room-words.ts";
import { seasonAt } from "../products/season.ts";

/** Bounds worth a line: those beyond which the most orderable blends lie. */
const BOUNDS_SHOWN = 4;

/** Model of the page but its picture. */
export function roomPage(open: OpenProduct, report: RoomReport | undefined) {
  const { product } = open.stored.document;
  return {
    measured: report !== undefined,
    anyBases: product.bases.length > 0,
    season: seasonWords(open),
    rooms: report?.bases.map((room) => baseModel(room, product, open.desk)) ?? [],
  };
}

function seasonWords({ stored, desk, shipDay }: OpenProduct): string {
  const { parcel, rules } = seasonAt(stored.document.product, desk.particulars, shipDay);
  if (!parcel) return "";
  return (
    `Measured for a parcel to ${parcel.zone.name} leaving on ${dateWords(shipDay, desk.shop.locale)}: ` +
    `it must soften above ${rules.softensAboveLeastCelsius} °C.`
  );
}

function baseModel(room: BaseRoom, product: Product, desk: Desk) {
  const base = product.bases.find(({ id }) => id === room.base)!;
  const dead = room.oils.filter(({ state }) => state !== "orderable");
  return {
    id: base.id,
    name: base.name,
    mark: room.isOpen ? "●" : "✕",
    share: estimateWords(room.room),
    isOpen: room.isOpen,
    own: ownWords(room, base),
    undecided: room.undecided > 0 ? `${percent(room.undecided)} cannot be judged.` : "",
    because: room.because ? REASON_WORDS[room.because] : "",
    mendings: room.mendings.map(({ change }) => changeWords(change, product, desk)),
    jars: room.jars.map((jar) => ({
      name: product.jars.find(({ id }) => id === jar.jar)?.name ?? jar.jar,
      share: estimateWords(jar.room),
      guard: jar.tooDear > 0 ? `${percent(jar.tooDear)} would cost more than your most` : "",
    })),
    rules: room.rules.map(({ reason, ofRefused, alone }) => ({
      reason: REASON_WORDS[reason],
      ofRefused: ofRefused === undefined ? "" : percent(ofRefused),
      alone: percent(alone.share),
    })),
    bounds: room.bounds
      .filter(({ opens, beyond, size }) => size > 0 && (opens ?? beyond.share) > 0)
      .slice(0, BOUNDS_SHOWN)
      .map((cut) => boundWords(cut, product, desk)),
    oils: dead.map((oil) => ({
      name: nameOf(desk, oil.ingredient),
      place: subjectName(oil.place, product, desk),
      words: oilWords(oil),
    })),
    firstJar: product.jars[0]?.name ?? "Price",
    ends: endsOf(room, product, desk),
    trialG: TRIAL_USUAL_G,
    trialRange: TRIAL_RANGE,
  };
}

function ownWords({ ownPasses, example, isOpen }: BaseRoom, { name }: Base): string {
  if (ownPasses) return `${name} as you wrote it can be ordered.`;
  if (!isOpen || !example) return "";
  return `${name} as you wrote it cannot be ordered: a customer must move it first.`;
}

function endsOf({ ends }: BaseRoom, product: Product, desk: Desk) {
  const named: readonly (readonly [string, RoomBlend | undefined])[] = [
    ["Cheapest", ends.cheapest],
    ["Dearest", ends.dearest],
    ["Softest", ends.softest],
    ["Firmest", ends.firmest],
  ];
  const [jar] = product.jars;
  return named.flatMap(([what, blend]) => {
    if (!blend) return [];
    const price = jar && blend.prices[jar.id];
    return [
      {
        what,
        words: what.toLowerCase(),
        /** Sent back for a trial, so that it is weighed as it was shown. */
        choice: JSON.stringify(blend.choice),
        blend: choiceWords(blend.choice, desk),
        firmness: `${blend.firmness}, ${blend.settledPercent.toFixed(1)} % solid`,
        price: price && "jarMinor" in price ? moneyOf(price.jarMinor, desk) : "no price yet",
      },
    ];
  });
}

function moneyOf(minor: number, { shop }: Desk): string {
  const currency = { code: shop.currency, exponent: shop.currencyExponent };
  return money(minor, currency, shop.locale);
}
