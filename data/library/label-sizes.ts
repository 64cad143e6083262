/**
 * Sizes of labels to begin with, until the maker measures the jars: common stationery and jar sizes, own choice, no
 * source.
 */
import type { Carries } from "#core/make/label-carries.ts";

export interface LabelSize {
  readonly id: string;
  readonly name: string;
  readonly widthMm: number;
  readonly heightMm: number;
  readonly carries: Carries;
  /** Area of the side or lid that faces the shopper [cm2]; the label's own where it was not measured. */
  readonly panelCm2?: number;
}

export const FIRST_SIZES: readonly LabelSize[] = [
  { id: "around", name: "Around the jar", widthMm: 140, heightMm: 40, carries: "all" },
  { id: "carton", name: "Carton", widthMm: 75, heightMm: 75, carries: "all" },
  { id: "lid", name: "Lid", widthMm: 45, heightMm: 45, carries: "front" },
  { id: "leaflet", name: "Folded leaflet", widthMm: 90, heightMm: 110, carries: "list" },
];
