/**
 * The geometry of the firmness picture: temperatures to the right, solid fat upwards. Pure.
 *
 * The maker's firmness window is drawn as a gate standing at the use temperature: the settled line
 * has to pass through it. The least *softens above* is drawn as a wedge on the floor of the class
 * soft: the line has to pass over it.
 */
import {
  FIRMNESS_CLASSES,
  type FirmnessClass,
  type FirmnessLaw,
  solidFatFrom,
} from "#core/judge/firmness.ts";
import type { Rules, SolidFatPoint } from "#core/judge/verdict.ts";
import { COOLEST_SHOWN_C, WARMEST_SHOWN_C } from "./scene.ts";

/** Plot edges [px]. */
export interface Frame {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

/** Highest solid fat the picture shows [%]; a steeper start is cut off at the top edge. */
const GREATEST_SHOWN_PERCENT = 70;
const GATE_HALF_WIDTH_C = 1.1;

export interface Scale {
  x(celsius: number): number;
  y(solidPercent: number): number;
}

export function scaleOf({ left, right, top, bottom }: Frame): Scale {
  const perDegree = (right - left) / (WARMEST_SHOWN_C - COOLEST_SHOWN_C);
  const perPoint = (bottom - top) / GREATEST_SHOWN_PERCENT;
  const round = (px: number) => Math.round(px * 10) / 10;
  return {
    x: (celsius) => round(left + (celsius - COOLEST_SHOWN_C) * perDegree),
    y: (solid) => round(bottom - Math.min(GREATEST_SHOWN_PERCENT, Math.max(0, solid)) * perPoint),
  };
}

/**
 * Corners of an SVG polyline that follows the fat; those of the band close a polygon. One point a degree lies so close
 * that straight pieces read as a curve, which no smoothing then bends beyond the figures.
 */
export function fatLine(
  kind: "settled" | "fresh" | "band",
  points: readonly SolidFatPoint[],
  { x, y }: Scale,
): string {
  const along = (run: readonly SolidFatPoint[], value: "settled" | "fresh" | "high" | "low") =>
    run.map((point) => `${written(x(point.celsius))},${written(y(point[value]))}`).join(" ");
  if (kind !== "band") return along(points, kind);
  return `${along(points, "high")} ${along([...points].reverse(), "low")}`.trim();
}

const texts: string[] = [];

/** A length in whole tenths, as text. Writing hundreds of broken numbers out is half the work of bending the lines. */
function written(px: number): string {
  return (texts[Math.round(px * 10)] ??= String(px));
}

export interface Zone {
  readonly firmness: FirmnessClass;
  /** Solid fat where the class begins and ends, as far as the picture goes [%] */
  readonly from: number;
  readonly to: number;
}

/** The firmness classes as they lie in the picture, softest first. */
export function zonesOf(airFraction: number, law?: FirmnessLaw): Zone[] {
  return FIRMNESS_CLASSES.map((firmness, at) => {
    const above = FIRMNESS_CLASSES[at + 1];
    const to = above ? solidFatFrom(above, airFraction, law) : GREATEST_SHOWN_PERCENT;
    return {
      firmness,
      from: solidFatFrom(firmness, airFraction, law),
      to: Math.min(GREATEST_SHOWN_PERCENT, to),
    };
  }).filter(({ from }) => from < GREATEST_SHOWN_PERCENT);
}

export interface Gate {
  readonly x: number;
  readonly width: number;
  readonly top: number;
  readonly bottom: number;
  /** Whether the window has an upper and a lower end; an open end has no bar. */
  readonly closedAbove: boolean;
  readonly closedBelow: boolean;
}

/** The firmness window at the use temperature; nothing when the product sets none. */
export function gateOf(
  rules: Rules,
  useCelsius: number,
  zones: readonly Zone[],
  { x, y }: Scale,
): Gate | undefined {
  const inside = zones.filter(({ firmness }) => rules.firmness?.includes(firmness));
  const [lowest, highest] = [inside[0], inside.at(-1)];
  if (!lowest || !highest) return undefined;
  const left = x(useCelsius - GATE_HALF_WIDTH_C);
  return {
    x: left,
    width: x(useCelsius + GATE_HALF_WIDTH_C) - left,
    top: y(highest.to),
    bottom: y(lowest.from),
    closedAbove: highest.firmness !== "hard",
    closedBelow: lowest.firmness !== "fluid",
  };
}
