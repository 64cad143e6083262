/**
 * The firmness picture: one calm curve, the gate it has to pass, and four places a person knows.
 *
 * Everything is told by shape before colour: settled is a full line, fresh a dashed one, the gate
 * has bars above and below, the wedge stands on its floor. The words beneath the picture say the
 * same for those who do not see it.
 */
import type { Product } from "#core/compose/product.ts";
import type { FirmnessLaw } from "#core/judge/firmness.ts";
import type { SolidFatPoint } from "#core/judge/verdict.ts";
import type { ProductOffer } from "#core/wire.ts";
import { type Frame, type Scale, fatLine, gateOf, scaleOf, zonesOf } from "../curve-shape.ts";
import { dress, svg } from "../dom.ts";
import type { Language } from "../language.ts";
import type { Scene } from "../scene.ts";
import { knownPlaces, sayFirmness } from "../sayings.ts";

const FOOT = 46;
const GUTTER = 46;
const HEAD = 14;
/** Room at the right for the name of the warmest place. */
const TAIL = 30;
/** So small, a point in three degrees reads as a curve. */
const THUMBNAIL_EVERY = 3;

/** Lettering keeps this far from the line it belongs to [px] */
export const ANCHOR_SHIFT = { start: -6, middle: 0, end: 6 };

export interface Picture {
  readonly node: SVGSVGElement;
  show(scene: Scene): void;
  /** @param width of the picture, as its height [px] */
  fit(width: number, height: number): void;
}

/**
 * The picture. What stays while shares are drawn is made once per size; a move only bends the lines
 * and shifts the dots, because lettering is slow to lay out.
 */
export function curvePicture({ product, law }: ProductOffer, language: Language): Picture {
  const node = svg("svg", { class: "curve", role: "img", part: "curve" });
  const ground = svg("g");
  const lines = fatLines("band", "fresh", "settled");
  const dots = knownPlaces(product.useCelsius, language).map(({ celsius }) => {
    const r = celsius === product.useCelsius ? 5.5 : 4;
    return { celsius, dot: svg("circle", { class: "dot", r }) };
  });
  node.append(ground, ...lines.nodes, ...dots.map(({ dot }) => dot));
  let scale = scaleOf({ left: 0, right: 1, top: 0, bottom: 1 });
  let shown: Scene | undefined;
  const show = (scene: Scene) => {
    shown = scene;
    const points = scene.judgement?.solidFat ?? [];
    const firmness = sayFirmness(scene.judgement, language);
    dress(node, { "aria-label": language.words.curve.title({ firmness }) });
    lines.bend(points, scale);
    for (const { celsius, dot } of dots) {
      const point = points.find((each) => each.celsius === celsius);
      if (point) dress(dot, { cx: scale.x(celsius), cy: scale.y(point.settled) });
    }
  };
  return {
    node,
    show,
    fit(width, height) {
      const frame = { left: GUTTER, right: width - TAIL, top: HEAD, bottom: height - FOOT };
      scale = scaleOf(frame);
      dress(node, { viewBox: `0 0 ${width} ${height}` });
      ground.replaceChildren(
        ...zoneNodes(language, zonesOf(product.airFraction, law), frame, scale),
        ...windowNodes(product, law, scale),
        ...placeNodes(product, language, frame, scale),
      );
      if (shown) show(shown);
    },
  };
}

/** A thumbnail of the same picture for the strip. */
export function thumbnail({ product, law }: ProductOffer): Pick<Picture, "node" | "show"> {
  const [width, height] = [72, 36];
  const scale = scaleOf({ left: 1, right: width - 1, top: 2, bottom: height - 2 });
  const lines = fatLines("settled");
  const isEnough = (_: SolidFatPoint, at: number) => at % THUMBNAIL_EVERY === 0;
  const attributes = { class: "thumbnail", viewBox: `0 0 ${width} ${height}` };
  return {
    node: svg("svg", attributes, ...windowNodes(product, law, scale), ...lines.nodes),
    show: ({ judgement }) => lines.bend(judgement?.solidFat.filter(isEnough) ?? [], scale),
  };
}

function fatLines(...kinds: readonly ("band" | "fresh" | "settled")[]) {
  const nodes = kinds.map((kind) => svg(kind === "band" ? "polygon" : "polyline", { class: kind }));
  return {
    nodes,
    // The corners of a polyline are no style, as the data of a path are, so nothing is styled again.
    bend(points: readonly SolidFatPoint[], scale: Scale) {
      for (const [at, kind] of kinds.entries()) {
        nodes[at]!.setAttribute("points", fatLine(kind, points, scale));
      }
    },
  };
}

/** The firmness classes: a floor each, and its name. */
export function zoneNodes(
  { words }: Language,
  zones: ReturnType<typeof zonesOf>,
  { left, right }: Frame,
  { y }: Scale,
): SVGElement[] {
  return zones.flatMap(({ firmness, from, to }) => [
    svg("line", { class: "floor", x1: left, x2: right, y1: y(from), y2: y(from) }),
    svg(
      "text",
      { class: "zone", x: left - 10, y: y((from + to) / 2) + 4 },
      words.classes[firmness](),
    ),
  ]);
}

function windowNodes(product: Product, law: FirmnessLaw | undefined, scale: Scale): SVGElement[] {
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
  { useCelsius }: Product,
  language: Language,
  { top, bottom }: Frame,
  { x }: Scale,
): SVGElement[] {
  return knownPlaces(useCelsius, language).flatMap(({ name, celsius, anchor }) => {
    const shift = ANCHOR_SHIFT[anchor];
    const label = (y: number, text: string, kind: string) =>
      svg("text", { class: kind, x: x(celsius) + shift, y, "text-anchor": anchor }, text);
    return [
      svg("line", { class: "plumb", x1: x(celsius), x2: x(celsius), y1: top, y2: bottom + 6 }),
      label(bottom + 22, language.degrees(celsius), "warmth"),
      label(bottom + 38, name, "name"),
    ];
  });
}
