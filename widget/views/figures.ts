/**
 * The figures behind the words, one tap deeper.
 */
import type { Judgement } from "#core/judge/verdict.ts";
import { type View, html } from "../dom.ts";
import type { Formats } from "../formats.ts";
import type { Scene } from "../scene.ts";

const EVERY_C = 5;

/** Solid fat by temperature and the characteristic values. */
export function figuresView(formats: Formats): View<Scene> {
  const inside = html("div", { class: "figures" });
  const node = html("details", { class: "deeper" }, html("summary", {}, "The figures"), inside);
  let shown: Judgement | undefined;
  const fill = () => {
    if (node.open && shown) inside.replaceChildren(...contents(shown, formats));
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

function contents(judgement: Judgement, formats: Formats): HTMLElement[] {
  const head = ["Warmth", "Settled", "Between", "Fresh"];
  const curve = judgement.solidFat
    .filter(({ celsius }) => celsius % EVERY_C === 0)
    .map(({ celsius, settled, fresh, low, high }) =>
      line(
        formats.degrees(celsius),
        formats.number(settled),
        `${formats.number(low)}–${formats.number(high)}`,
        formats.number(fresh),
      ),
    );
  return [
    html(
      "table",
      {},
      html("caption", {}, "Solid fat, percent by mass. Reckoned, not measured."),
      html("thead", {}, html("tr", {}, ...head.map((word) => html("th", { scope: "col" }, word)))),
      html("tbody", {}, ...curve),
    ),
    html("table", {}, ...values(judgement, formats).map(([name, value]) => line(name, value))),
  ];
}

function line(name: string, ...values: string[]): HTMLElement {
  const cells = values.map((value) => html("td", {}, value));
  return html("tr", {}, html("th", { scope: "row" }, name), ...cells);
}

function values(judgement: Judgement, formats: Formats): [string, string][] {
  const { firmness, softensAboveCelsius, softensAboveLeastCelsius, oilPhase } = judgement;
  const known = (value: number | undefined, say: (value: number) => string) =>
    value === undefined ? "not known" : say(value);
  const tenth = (unit: string) => (value: number) => `${formats.number(value, 1)} ${unit}`;
  return [
    ["Softens above", known(softensAboveCelsius, tenth("°C"))],
    ["… at the least", known(softensAboveLeastCelsius, tenth("°C"))],
    ["Slip melting point", known(judgement.slipMeltingCelsius, tenth("°C"))],
    [
      `Yield value at ${firmness ? formats.degrees(firmness.celsius) : "use"}`,
      known(firmness?.yieldPa, (pa) => `${formats.number(pa / 1000, 1)} kPa`),
    ],
    ["Oil phase at 32 °C", known(oilPhase?.viscosityMm2PerS, (v) => `${formats.number(v)} mm²/s`)],
  ];
}
