/**
 * Small signs that tell state by shape before colour.
 */
import type { FirmnessClass } from "#core/judge/firmness.ts";
import { type View, html, say, svg } from "../dom.ts";
import type { Scene } from "../scene.ts";
import type { Language } from "../language.ts";

/** A spoonful that keeps more or less of its height: flat when runny, square when hard. */
export function markFor(firmness: FirmnessClass): SVGSVGElement {
  const shapes: Record<FirmnessClass, string> = {
    fluid: "M.5,13q9.5,-8 19,0z",
    soft: "M2,13q1,-7 8,-7t8,7z",
    firm: "M3,13v-4q0,-5 7,-5t7,5v4z",
    hard: "M4,13v-10h12v10z",
  };
  return svg(
    "svg",
    {
      class: "spoonful",
      viewBox: "0 0 20 14",
      "aria-hidden": "true",
    },
    svg("path", { d: shapes[firmness] }),
  );
}

const SIGNS: Record<Scene["verdict"], string> = {
  orderable: "M3,9.5l4,4l8,-9",
  refused: "M9,2.5l7,13h-14zM9,7.5v3.5M9,13.2v.3",
  "cannot-judge": "M6,6.5q0,-3.5 3.2,-3.5t3.2,3q0,2 -3.4,3.6v2M9,14.6v.4",
};

/** The sign of a verdict: a tick, a warning triangle, a question mark. */
function markForVerdict(verdict: Scene["verdict"]): SVGSVGElement {
  const attributes = { class: "sign", viewBox: "0 0 18 18", "aria-hidden": "true" };
  return svg("svg", attributes, svg("path", { d: SIGNS[verdict] }));
}

/** The verdict in a sign and a few words. */
export function verdictLine(says: Language["words"]["verdict"]): View<Scene> {
  const words = html("span", {});
  const node = html("p", { class: "verdict" });
  return {
    node,
    show({ verdict }) {
      if (node.dataset["verdict"] === verdict) return;
      node.dataset["verdict"] = verdict;
      say(words, says[verdict]());
      node.replaceChildren(markForVerdict(verdict), words);
    },
  };
}
