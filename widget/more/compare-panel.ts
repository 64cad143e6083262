/**
 * Compare: the blend on the page beside one kept aside, or beside the maker's base until one is. Taking the other swaps
 * the two, so that nothing is lost.
 */
import { type Choice, startingChoice } from "#core/compose/product.ts";
import { type Child, bar, button, html, say } from "../dom.ts";
import { sayFirmness } from "../sayings.ts";
import type { Scene } from "../scene.ts";
import { keepAside, readAside } from "./aside.ts";
import { compareLines } from "./compare-lines.ts";
import type { MoreGround, Panel } from "./ground.ts";
import { curveKey, twoCurves } from "./two-curves.ts";

export function comparePanel(ground: MoreGround): Panel {
  const { words, doAct, language } = ground;
  const { compare } = words;
  const picture = twoCurves(ground);
  const [nowKey, otherKey] = [html("span", {}), html("span", {})];
  const legend = html(
    "ul",
    { class: "legend", role: "list" },
    html("li", {}, curveKey("settled"), nowKey),
    html("li", {}, curveKey("beside"), otherKey),
  );
  const table = html("table", { class: "side-by-side" });
  const status = html("p", { class: "aside", role: "status" });
  let aside = readAside(ground);
  let scene: Scene | undefined;
  let shownFor: unknown[] = [];

  const put = (choice: Choice) => {
    aside = choice;
    keepAside(ground, choice);
  };
  const keep = () => {
    if (!scene) return;
    put(scene.state.choice);
    say(status, compare.kept());
    show(scene);
  };
  const take = () => {
    if (!scene) return;
    const { choice } = otherOf(scene).state;
    put(scene.state.choice);
    doAct({ kind: "take-offer", choice });
    say(status, compare.swapped());
    show(scene);
  };
  const keeping = button({ class: "quiet" }, keep, compare.keep());
  const taking = button({ class: "quiet" }, take, compare.take());

  const otherOf = ({ state, base }: Scene) =>
    ground.readScene({ ...state, choice: aside ?? startingChoice(base) });
  const show = (now: Scene) => {
    scene = now;
    // Judging the other takes as long as judging this one, so it is done when either is another.
    const wanted = [now.blend, now.jar, aside];
    if (wanted.every((each, at) => each === shownFor[at])) return;
    shownFor = wanted;
    const other = otherOf(now);
    const name = aside ? compare.aside() : compare.base({ base: now.base.name });
    say(nowKey, compare.now());
    say(otherKey, name);
    picture.show(
      now,
      other,
      compare.curve({
        now: compare.now(),
        nowFirmness: sayFirmness(now.judgement, language),
        other: name,
        otherFirmness: sayFirmness(other.judgement, language),
      }),
    );
    const isSame = JSON.stringify(now.state.choice) === JSON.stringify(other.state.choice);
    bar(taking, isSame);
    table.replaceChildren(
      html("caption", { class: "spoken" }, compare.caption({ now: compare.now(), other: name })),
      head(ground, name),
      html("tbody", {}, ...compareLines(ground, now, other).map(line)),
    );
  };

  return {
    node: html(
      "div",
      {},
      html("p", { class: "aside" }, compare.lead()),
      html("div", { class: "answers" }, keeping, taking),
      status,
      html("figure", { class: "two-curves" }, picture.node, legend),
      table,
    ),
    show,
  };
}

function head({ words: { compare } }: MoreGround, other: string): HTMLElement {
  const cell = (...children: Child[]) => html("th", { scope: "col" }, ...children);
  const what = html("th", { scope: "col" }, html("span", { class: "spoken" }, compare.what()));
  return html("thead", {}, html("tr", {}, what, cell(compare.now()), cell(other)));
}

/** Where the two differ the figures stand out. */
function line({ what, now, other }: ReturnType<typeof compareLines>[number]): HTMLElement {
  const differs = now !== other;
  const cell = (value: string) => html("td", differs ? { class: "differs" } : {}, value);
  return html("tr", {}, html("th", { scope: "row" }, what), cell(now), cell(other));
}
