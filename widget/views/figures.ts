/**
 * The figures behind the words, one tap deeper.
 */
import { SKIN_C } from "#core/judge/oil-phase.ts";
import type { Judgement } from "#core/judge/verdict.ts";
import { type View, html } from "../dom.ts";
import type { Language } from "../language.ts";
import type { Scene } from "../scene.ts";

const EVERY_C = 5;

/** Solid fat by temperature and the characteristic values. */
export function figuresView(language: Language): View<Scene> {
  const inside = html("div", { class: "figures" });
  const node = html(
    "details",
    { class: "deeper" },
    html("summary", {}, language.words.figures.title()),
    inside,
  );
  let shown: Judgement | undefined;
  const fill = () => {
    if (node.open && shown) inside.replaceChildren(...contents(shown, language));
  };
  node.addEventListener("toggle", fill);
  return {
    node,
    show({ judgement }) {
      shown = judgement;
      fill();
    },
  };
}

function contents(judgement: Judgement, language: Language): HTMLElement[] {
  const { words } = language;
  const { warmth, settled: later, between, fresh: now, caption } = words.figures;
  const head = [warmth(), later(), between(), now()];
  const whole = (value: number) => language.number(value, 0);
  const curve = judgement.solidFat
    .filter(({ celsius }) => celsius % EVERY_C === 0)
    .map(({ celsius, settled, fresh, low, high }) =>
      line(language.degrees(celsius), whole(settled), `${whole(low)}–${whole(high)}`, whole(fresh)),
    );
  return [
    html(
      "table",
      {},
      html("caption", {}, caption()),
      html("thead", {}, html("tr", {}, ...head.map((word) => html("th", { scope: "col" }, word)))),
      html("tbody", {}, ...curve),
    ),
    html("table", {}, ...values(judgement, language).map(([name, value]) => line(name, value))),
  ];
}

function line(name: string, ...values: string[]): HTMLElement {
  const cells = values.map((value) => html("td", {}, value));
  return html("tr", {}, html("th", { scope: "row" }, name), ...cells);
}

function values(judgement: Judgement, language: Language): [string, string][] {
  const { figures } = language.words;
  const { firmness, softensAboveCelsius, softensAboveLeastCelsius, oilPhase } = judgement;
  const known = (value: number | undefined, say: (value: number) => string) =>
    value === undefined ? figures.unknown() : say(value);
  const tenth = (unit: string) => (value: number) => `${language.number(value, 1)}\u00a0${unit}`;
  return [
    [figures.softensAbove(), known(softensAboveCelsius, tenth("°C"))],
    [figures.atTheLeast(), known(softensAboveLeastCelsius, tenth("°C"))],
    [figures.slip(), known(judgement.slipMeltingCelsius, tenth("°C"))],
    [
      firmness ? figures.yieldAt({ warmth: language.degrees(firmness.celsius) }) : figures.yield(),
      known(firmness?.yieldPa, (pa) => tenth("kPa")(pa / 1000)),
    ],
    [
      figures.oilPhase({ warmth: language.degrees(SKIN_C) }),
      known(oilPhase?.viscosityMm2PerS, (v) => `${language.number(v, 0)}\u00a0mm²/s`),
    ],
  ];
}
