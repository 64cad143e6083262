/**
 * Judge: what the blend will be like. Words first, the picture, the places a person knows; figures
 * one tap deeper.
 */
import { firmnessClass, yieldPa } from "#core/judge/firmness.ts";
import type { ProductOffer } from "#core/wire.ts";
import { type View, button, hide, html, say, saySteady, svg } from "../dom.ts";
import type { Language } from "../language.ts";
import type { Scene } from "../scene.ts";
import type { Act } from "../state.ts";
import { knownPlaces, sayFirmness, sayReasons, saySettling } from "../sayings.ts";
import { curvePicture } from "./curve.ts";
import { figuresView } from "./figures.ts";
import { markFor, verdictLine } from "./mark.ts";
import { type Advised, offerView } from "./offer.ts";

/** Size until the page has measured it; the style sheet decides [px]. */
const USUAL = { width: 350, height: 270 };

/** The verdict, its reasons, the picture and the four places. */
export function judgeView(
  offer: ProductOffer,
  language: Language,
  doAct: (act: Act) => void,
): View<Advised> {
  const verdict = verdictLine(language.words.verdict);
  const headline = html("h3", { class: "headline steady", tabindex: -1 });
  const settling = html("p", { class: "aside" });
  // What was pressed is gone with the refusal; the focus goes on to what the blend is now.
  const reasons = reasonsView(language, doAct, () => headline.focus());
  const picture = pictureView(offer, language);
  const places = placesView(offer, language);
  const figures = figuresView(language);
  const node = html(
    "section",
    { class: "judge" },
    verdict.node,
    headline,
    settling,
    reasons.node,
    picture.node,
    places.node,
    figures.node,
  );
  // Unfolded it may be taller than the screen, and what sticks cannot be scrolled. A class, because `:has(…)` would be
  // looked up anew at every move.
  figures.node.addEventListener("toggle", () =>
    node.classList.toggle("unfolded", figures.node.hasAttribute("open")),
  );
  return {
    node,
    show(advised) {
      const { scene } = advised;
      verdict.show(scene);
      saySteady(headline, `${sayFirmness(scene.judgement, language)}.`);
      say(settling, saySettling(scene.judgement, language));
      reasons.show(advised);
      for (const view of [picture, places, figures]) {
        // Without figures there is no curve to show, and an empty one would say too much.
        hide(view.node, !scene.judgement?.firmness);
        view.show(scene);
      }
    },
  };
}

/** Why not, in sentences, what could be instead, and the way back. */
function reasonsView(
  language: Language,
  doAct: (act: Act) => void,
  gone: () => void,
): View<Advised> {
  const { verdict: verdicts } = language.words;
  const list = html("div", { class: "why" });
  const offer = offerView(language, doAct, gone);
  const takeBack = () => {
    doAct({ kind: "undo" });
    if (node.hidden) gone();
  };
  const undo = button({ class: "quiet" }, takeBack, verdicts.takeBack());
  const node = html("div", { class: "reasons" }, list, offer.node, undo);
  return {
    node,
    show(advised) {
      const { verdict, state } = advised.scene;
      hide(node, verdict === "orderable");
      hide(undo, state.past.length === 0);
      offer.show(advised);
      const sentences = sayReasons(advised.scene, language);
      if (verdict === "cannot-judge") sentences.push(verdicts.ratherNotGuess());
      while (list.childElementCount > sentences.length) list.lastElementChild!.remove();
      for (const [at, sentence] of sentences.entries()) {
        saySteady(list.children[at] ?? list.appendChild(html("p", { class: "steady" })), sentence);
      }
    },
  };
}

/** The curve, drawn to the width it has, so that its lettering keeps its size. */
function pictureView(offer: ProductOffer, language: Language): View<Scene> {
  const picture = curvePicture(offer, language);
  picture.fit(USUAL.width, USUAL.height);
  const { rules, useCelsius } = offer.product;
  const { curve } = language.words;
  const entries = [
    legendEntry("settled", curve.settled()),
    legendEntry("fresh", curve.fresh()),
    legendEntry("band", curve.band()),
  ];
  if (rules.firmness?.length) {
    entries.push(legendEntry("gate", curve.gate({ warmth: language.degrees(useCelsius) })));
  }
  if (rules.softensAboveLeastCelsius !== undefined) {
    const warmest = language.degrees(rules.softensAboveLeastCelsius);
    entries.push(legendEntry("wedge", curve.wedge({ warmth: warmest })));
  }
  const node = html(
    "figure",
    { class: "picture" },
    picture.node,
    html("figcaption", {}, html("ul", { class: "legend", role: "list" }, ...entries)),
  );
  let size = USUAL;
  new ResizeObserver(([entry]) => {
    const { width = 0, height = 0 } = entry?.contentRect ?? {};
    if (width < 1 || (width === size.width && height === size.height)) return;
    size = { width: Math.round(width), height: Math.round(height) };
    picture.fit(size.width, size.height);
  }).observe(picture.node);
  return { node, show: picture.show };
}

const KEY_SHAPES = {
  settled: "M1,8h26",
  fresh: "M1,8h26",
  band: "M2,3h24v10h-24z",
  gate: "M9,2h10v12h-10z",
  wedge: "M14,3l5,10h-10z",
};

function legendEntry(kind: keyof typeof KEY_SHAPES, words: string): HTMLElement {
  const key = svg(
    "svg",
    { class: "key", viewBox: "0 0 28 16", "aria-hidden": "true" },
    svg("path", { class: kind, d: KEY_SHAPES[kind] }),
  );
  if (kind === "gate") key.append(svg("path", { class: "bar", d: "M9,2h10M9,14h10" }));
  return html("li", {}, key, words);
}

/** The picture in words: four places and how the jar behaves there. */
function placesView(offer: ProductOffer, language: Language): View<Scene> {
  const { useCelsius, airFraction } = offer.product;
  const entries = knownPlaces(useCelsius, language).map((place) => ({
    place,
    says: html("dd"),
    told: "",
  }));
  const node = html(
    "dl",
    { class: "places" },
    ...entries.map(({ place, says }) => {
      const warmth = html("small", {}, language.degrees(place.celsius));
      return html("div", {}, html("dt", {}, place.name, " ", warmth), says);
    }),
  );
  return {
    node,
    show({ judgement }) {
      for (const entry of entries) {
        const { place, says, told } = entry;
        const point = judgement?.solidFat.find(({ celsius }) => celsius === place.celsius);
        if (!point) continue;
        const firmness = firmnessClass(yieldPa(point.settled, airFraction, offer.law));
        if (firmness === told) continue;
        entry.told = firmness;
        says.replaceChildren(markFor(firmness), html("span", {}, place.feel[firmness]()));
      }
    },
  };
}
