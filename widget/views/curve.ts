/**
 * The firmness picture: one calm curve, the gate it has to pass, and four places a person knows.
 *
 * Everything is told by shape before colour: settled is a full line, fresh a dashed one, the gate
 * has bars above and below, the wedge stands on its floor. The words beneath the picture say the
 * same for those who do not see it.
 */
import type { SolidFatPoint } from "#core/judge/verdict.ts";
import { type Frame, type Scale, fatPaths, gateOf, scaleOf, zonesOf } from "../curve-shape.ts";
import { svg } from "../dom.ts";
import type { Formats } from "../formats.ts";
import type { Scene } from "../scene.ts";
import { FIRMNESS_WORD, knownPlaces, sayFirmness } from "../words.ts";

const FOOT = 46;
const GUTTER = 46;
const HEAD = 14;
/** Room at the right for the name of the warmest place. */
const TAIL = 30;

/**
 * Draw the picture into a node of its own size.
 * @param size of the picture [px]
 */
export function drawCurve(
  into: SVGSVGElement,
  scene: Scene,
  formats: Formats,
  { width, height }: { readonly width: number; readonly height: number },
): void {
  const frame: Frame = { left: GUTTER, right: width - TAIL, top: HEAD, bottom: height - FOOT };
  const scale = scaleOf(frame);
  const points = scene.judgement?.solidFat ?? [];
  into.setAttribute("viewBox", `0 0 ${width} ${height}`);
  into.setAttribute(
    "aria-label",
    `Firmness from 5 to 40 °C: ${sayFirmness(scene.judgement, formats)}. In words below.`,
  );
  into.replaceChildren(
    ...zoneNodes(scene, frame, scale),
    ...windowNodes(scene, scale),
    ...placeNodes(scene, formats, frame, scale),
    ...fatNodes(points, scale),
    ...dotNodes(scene, scale),
  );
}

/** A thumbnail of the same picture for the strip. */
export function drawThumbnail(into: SVGSVGElement, scene: Scene): void {
  const [width, height] = [72, 36];
  const scale = scaleOf({ left: 1, right: width - 1, top: 2, bottom: height - 2 });
  into.setAttribute("viewBox", `0 0 ${width} ${height}`);
  into.replaceChildren(
    ...windowNodes(scene, scale),
    svg("path", {
      class: "settled",
      d: fatPaths(scene.judgement?.solidFat ?? [], scale).settled,
    }),
  );
}

function zoneNodes(scene: Scene, { left, right }: Frame, { y }: Scale): SVGElement[] {
  const { product, law } = scene.state.offer;
  return zonesOf(product.airFraction, law).flatMap(({ firmness, from, to }) => [
    svg("line", { class: "floor", x1: left, x2: right, y1: y(from), y2: y(from) }),
    svg(
      "text",
      { class: "zone", x: left - 10, y: y((from + to) / 2) + 4 },
      FIRMNESS_WORD[firmness],
    ),
  ]);
}

function windowNodes({ state }: Scene, scale: Scale): SVGElement[] {
  const { product, law } = state.offer;
  const { rules, useCelsius, airFraction } = product;
  const zones = zonesOf(airFraction, law);
  const gate = gateOf(rules, useCelsius, zones, scale);
  const nodes: SVGElement[] = [];
  if (gate) {
    const { x, width, top, bottom } = gate;
    const bar = (y: number) => svg("line", { class: "bar", x1: x, x2: x + width, y1: y, y2: y });
    nodes.push(svg("rect", { class: "gate", x, width, y: top, height: bottom - top }));
    if (gate.closedAbove) nodes.push(bar(top));
    if (gate.closedBelow) nodes.push(bar(bottom));
  }
  const holdsTo = rules.softensAboveLeastCelsius;
  const soft = zones.find(({ firmness }) => firmness === "soft");
  if (holdsTo !== undefined && soft) {
    const [x, y] = [scale.x(holdsTo), scale.y(soft.from)];
    nodes.push(svg("path", { class: "wedge", d: `M${x},${y}l5,10h-10z` }));
  }
  return nodes;
}

function placeNodes(
  { state }: Scene,
  formats: Formats,
  { top, bottom }: Frame,
  { x }: Scale,
): SVGElement[] {
  return knownPlaces(state.offer.product.useCelsius).flatMap(({ name, celsius, anchor }) => {
    const shift = { start: -6, middle: 0, end: 6 }[anchor];
    const label = (y: number, text: string, kind: string) =>
      svg("text", { class: kind, x: x(celsius) + shift, y, "text-anchor": anchor }, text);
    return [
      svg("line", { class: "plumb", x1: x(celsius), x2: x(celsius), y1: top, y2: bottom + 6 }),
      label(bottom + 22, formats.degrees(celsius), "warmth"),
      label(bottom + 38, name, "name"),
    ];
  });
}

function fatNodes(points: readonly SolidFatPoint[], scale: Scale): SVGElement[] {
  if (points.length === 0) return [];
  const { settled, fresh, band } = fatPaths(points, scale);
  return [
    svg("path", { class: "band", d: band }),
    svg("path", { class: "fresh", d: fresh }),
    svg("path", { class: "settled", d: settled }),
  ];
}

function dotNodes({ state, judgement }: Scene, { x, y }: Scale): SVGElement[] {
  const { useCelsius } = state.offer.product;
  return knownPlaces(useCelsius).flatMap(({ celsius }) => {
    const point = judgement?.solidFat.find((each) => each.celsius === celsius);
    if (!point) return [];
    const r = celsius === useCelsius ? 5.5 : 4;
    return [svg("circle", { class: "dot", cx: x(celsius), cy: y(point.settled), r })];
  });
}
