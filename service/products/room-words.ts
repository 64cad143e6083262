/**
 * A room in words: for its page, for publishing, and for the version that keeps it.
 */
import type { Choice, Product } from "#core/compose/product.ts";
import type { BaseRoom } from "#core/order/room/base-room.ts";
import type { Change } from "#core/order/room/change.ts";
import type { BoundCut } from "#core/order/room/cuts.ts";
import type { Estimate } from "#core/order/room/interval.ts";
import type { OilRoom } from "#core/order/room/oils.ts";
import type { Reason } from "#core/order/room/referee.ts";
import type { RoomReport } from "#core/order/room/room.ts";
import { type Desk, nameOf } from "./desk.ts";
import { percentWords } from "./fields.ts";
import type { Obstacle } from "./readiness.ts";

export const REASON_WORDS: Readonly<Record<Reason | "bounds", string>> = {
  "too-soft": "too soft in use",
  "too-hard": "too hard in use",
  "softens-too-low": "softens too low",
  "pore-rating-above": "pore rating above the ceiling",
  "pore-rating-unrated": "an ingredient without a pore rating",
  "cannot-judge": "a figure missing to judge it",
  "skin-limit": "more than may stay on skin",
  bounds: "the bounds cannot make 100 %",
};

/** "62 % (60 to 64 %) of 9 000 drawn", or how else it is known. */
export function estimateWords({ share, low, high, drawn, known }: Estimate): string {
  if (known === "proven") return share === 0 ? "none, proven" : "all, proven";
  if (known === "counted") return `${percent(share)}, counted`;
  return `${percent(share)} (${percent(low)} to ${percent(high)})`.concat(
    `, from ${drawn.toLocaleString("en-GB").replaceAll(",", "\u00a0")} drawn`,
  );
}

/** Small shares keep a digit: "0.4 %"; what is more than nothing is never called 0. */
export function percent(share: number): string {
  const value = 100 * share;
  if (value > 0 && value < 0.05) return "under 0.1\u00a0%";
  if (value < 10 || value > 99) return `${Math.round(value * 10) / 10}\u00a0%`;
  return `${Math.round(value)}\u00a0%`;
}

/** A line for every base, and what mends one that is shut. */
export function roomSummary(report: RoomReport, product: Product, desk: Desk): string[] {
  return report.bases.map((room) => {
    const { name } = product.bases.find(({ id }) => id === room.base)!;
    const passing = `${name}: ${estimateWords(room.room)} can be ordered.`;
    return room.isOpen
      ? passing
      : `${name}: no blend can be ordered. ${mendingWords(room, product, desk)}`;
  });
}

/**
 * What keeps a room from being opened: a base without an orderable blend, with the least change that would give one,
 * and a jar that no blend can be sold in.
 */
export function shutDoors(report: RoomReport, product: Product, desk: Desk): Obstacle[] {
  return report.bases.flatMap((room): Obstacle[] => {
    const { name } = product.bases.find(({ id }) => id === room.base)!;
    if (!room.isOpen) {
      const sentence = `No blend of ${name} can be ordered. ${mendingWords(room, product, desk)}`;
      return [{ sheet: "bases", base: room.base, sentence }];
    }
    return room.jars
      .filter((jar) => jar.room.share === 0 && jar.tooDear > 0)
      .map(({ jar: id }) => {
        const jar = product.jars.find((each) => each.id === id)!.name;
        const sentence = `Every blend of ${name} would cost more in “${jar}” than your greatest price allows.`;
        return { sheet: "price", sentence };
      });
  });
}

function mendingWords({ mendings, because }: BaseRoom, product: Product, desk: Desk): string {
  const why = because ? `The reason: ${REASON_WORDS[because]}. ` : "";
  const [first, second] = mendings;
  if (!first) return `${why}No single change that would help was found.`;
  const other = second ? ` Or: ${changeWords(second.change, product, desk)}` : "";
  return `${why}The least change found: ${changeWords(first.change, product, desk)}${other}`;
}

/** What would have to be changed. */
export function changeWords(change: Change, product: Product, desk: Desk): string {
  switch (change.kind) {
    case "bound": {
      const end = change.end === "least" ? "at least" : "at most";
      const [from, to] = [percentWords(change.from), percentWords(change.to)];
      return `${subjectName(change.subject, product, desk)} ${end} ${from} → ${to}.`;
    }
    case "all-bounds":
      return `let every bound out by ${percentWords(change.by)} on both sides.`;
    case "softens-above":
      return `softens above at least ${change.from} °C → ${change.to} °C.`;
    case "firmness":
      return `firmness ${change.from.join(" to ")} → ${change.to.join(" to ")}.`;
    case "pore-ceiling":
      return `pore rating at most ${change.from} → ${change.to}.`;
    case "unrated-told":
      return "let an unrated ingredient only be told.";
    case "central":
      return "let the middle value pass, not the whole band.";
  }
}

/** Name of a butter or of a place. */
export function subjectName(subject: string, product: Product, desk: Desk): string {
  return product.places.find(({ id }) => id === subject)?.name ?? nameOf(desk, subject);
}

/** A bound that shuts out blends which would pass. */
export function boundWords(
  { subject, end, share, size, beyond, opens }: BoundCut,
  product: Product,
  desk: Desk,
) {
  const which = end === "least" ? "at least" : "at most";
  const name = `${subjectName(subject, product, desk)}, ${which} ${percentWords(share)}`;
  const gain =
    opens === undefined
      ? `${percent(beyond.share)} of what lies beyond would pass`
      : moreWords(opens);
  return { name, gain: size === 0 ? "nothing lies beyond" : gain };
}

function moreWords(opens: number): string {
  if (opens >= 1)
    return `beyond it lie ${Math.round(opens * 10) / 10} times the orderable blends inside`;
  return `beyond it lie about ${percent(opens)} more orderable blends`;
}

/** What can never be chosen, or hardly. */
export function oilWords({ state, because }: OilRoom): string {
  if (state === "dead") return `can never be ordered: ${REASON_WORDS[because ?? "cannot-judge"]}`;
  if (state === "not-found") return "no orderable blend with it was found";
  return state === "rare" ? "orderable only in a few blends" : "";
}

/** A choice as shares, largest first. */
export function choiceWords(choice: Choice, desk: Desk): string {
  return [...choice.butters, ...choice.oils]
    .filter(({ share }) => share > 0)
    .toSorted((one, other) => other.share - one.share)
    .map(({ ingredient, share }) => `${percentWords(share)} ${nameOf(desk, ingredient)}`)
    .join(", ");
}
