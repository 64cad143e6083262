/**
 * Two settled curves in one small picture: one a full line, the other a row of dots, so that nobody needs colour to
 * tell them apart.
 */
import { fatLine, gateOf, scaleOf, zonesOf } from "../curve-shape.ts";
import { dress, svg } from "../dom.ts";
import { knownPlaces } from "../sayings.ts";
import type { Scene } from "../scene.ts";
import { ANCHOR_SHIFT, zoneNodes } from "../views/curve.ts";
import type { MoreGround } from "./ground.ts";

const [WIDTH, HEIGHT] = [360, 200];
const FRAME = { left: 54, right: WIDTH - 14, top: 10, bottom: HEIGHT - 26 };

export interface TwoCurves {
  readonly node: SVGSVGElement;
  /** @param label says in words what the picture shows */
  show(now: Scene, other: Scene, label: string): void;
}

export function twoCurves({ offer, language }: MoreGround): TwoCurves {
  const { product, law } = offer;
  const scale = scaleOf(FRAME);
  const zones = zonesOf(product.airFraction, law);
  const now = svg("polyline", { class: "settled" });
  const other = svg("polyline", { class: "beside" });
  const gate = gateOf(product.rules, product.useCelsius, zones, scale);
  const node = svg(
    "svg",
    { class: "curve small", role: "img", viewBox: `0 0 ${WIDTH} ${HEIGHT}` },
    ...zoneNodes(language, zones, FRAME, scale),
    ...(gate
      ? [
          svg("rect", {
            class: "gate",
            x: gate.x,
            width: gate.width,
            y: gate.top,
            height: gate.bottom - gate.top,
          }),
        ]
      : []),
    ...knownPlaces(product.useCelsius, language).flatMap(({ celsius, anchor }) => {
      const x = scale.x(celsius);
      const shift = ANCHOR_SHIFT[anchor];
      const text = language.degrees(celsius);
      return [
        svg("line", { class: "plumb", x1: x, x2: x, y1: FRAME.top, y2: FRAME.bottom + 6 }),
        svg("text", { class: "warmth", x: x + shift, y: HEIGHT - 6, "text-anchor": anchor }, text),
      ];
    }),
    other,
    now,
  );
  return {
    node,
    show(first, second, label) {
      const points = ({ judgement }: Scene) => fatLine("settled", judgement?.solidFat ?? [], scale);
      dress(now, { points: points(first) });
      dress(other, { points: points(second) });
      dress(node, { "aria-label": label });
    },
  };
}

/** The line of one of the two, for the legend. */
export function curveKey(kind: "settled" | "beside"): SVGSVGElement {
  return svg(
    "svg",
    { class: "key", viewBox: "0 0 28 16", "aria-hidden": "true" },
    svg("path", { class: kind, d: "M2,8h24" }),
  );
}
