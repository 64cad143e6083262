/**
 * Which particulars a label carries: all of them, or its part of a set (front and back, jar and carton, a leaflet).
 */
import type { Particular } from "./label.ts";
import { type LabelGap, labelGap } from "./label-gaps.ts";
import { type LabelMarket, PARTICULAR_NAMES, type ParticularId } from "./label-market.ts";

export const CARRIES = ["all", "front", "back", "without-list", "list"] as const;
export type Carries = (typeof CARRIES)[number];

const IN_PART: Readonly<Record<Exclude<Carries, "all">, (id: ParticularId) => boolean>> = {
  front: (id) => ["name", "purpose", "content"].includes(id),
  back: (id) => !["purpose", "content"].includes(id),
  "without-list": (id) => id !== "ingredients",
  list: (id) => ["name", "ingredients", "precautions", "batch"].includes(id),
};

/** The particulars that a label of this part carries. */
export function carriedBy(carries: Carries, all: readonly Particular[]): Particular[] {
  return carries === "all" ? [...all] : all.filter(({ id }) => IN_PART[carries](id));
}

/** What a market asks for and no label of the maker carries. */
export function carriedNowhere(market: LabelMarket, labels: readonly Carries[]): LabelGap[] {
  return market.asks
    .filter((id) => !labels.some((carries) => carries === "all" || IN_PART[carries](id)))
    .map((id) =>
      labelGap("label.particular.nowhere", {
        subject: PARTICULAR_NAMES[id],
        market: market.inSentence,
      }),
    );
}
