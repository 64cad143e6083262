/**
 * Ways on from the blend that most customers never take: wishes, comparing, sharing, opening one that was kept. What
 * stands behind them is a script of its own, fetched with its words when the first one is opened.
 */
import type { BlendOpened } from "#core/wire.ts";
import { fetchBeside } from "../beside.ts";
import { type View, button, dress, html, say } from "../dom.ts";
import type { Answer } from "../exchange.ts";
import type { MoreHost } from "../more/ground.ts";
import type { More, Way } from "../more/more.ts";
import type { MoreCatalogue } from "../more/words.ts";
import type { Scene } from "../scene.ts";

type Script = typeof import("../more/more.ts");

const WAYS: readonly Way[] = ["wish", "compare", "share", "open"];

export interface MoreView extends View<Scene> {
  /** One sentence about the blend that a link brought, for the head of the page. */
  readonly notice: HTMLElement;
  /** @param linked what the code in the page's address holds; nothing when it could not be asked */
  arrive(linked: Promise<Answer<BlendOpened> | undefined>): Promise<void>;
}

/** The script and its words, which are of no use one without the other. */
export function fetchMore(lang: string): Promise<[Script, MoreCatalogue]> {
  return Promise.all([
    fetchBeside<Script>("softset.more.js"),
    fetchBeside<MoreCatalogue>(`softset.words.more.${lang}.js`),
  ]);
}

export function moreView(host: MoreHost): MoreView {
  const { words, lang } = host.language;
  const notice = html("p", { class: "alert", role: "status" });
  const panel = html("div", { class: "way-panel", id: "way-panel", role: "group" });
  const buttons = WAYS.map((way) =>
    button({ class: "quiet", "aria-controls": panel.id }, () => choose(way), words.more[way]()),
  );
  const node = html(
    "section",
    { class: "more" },
    html("h3", {}, words.more.title()),
    html("div", { class: "ways" }, ...buttons),
    panel,
  );
  let opening: Promise<More | undefined> | undefined;
  let more: More | undefined;
  let open: Way | undefined;
  let scene: Scene | undefined;

  /** Nothing when it is out of reach; the next press tries again. */
  const load = () =>
    (opening ??= fetchMore(lang)
      .then(([{ openMore }, catalogue]) => openMore(host, catalogue, notice))
      .catch(() => (opening = undefined)));
  const choose = (way: Way) => {
    open = open === way ? undefined : way;
    panel.replaceChildren();
    for (const [at, each] of WAYS.entries()) {
      dress(buttons[at]!, { "aria-expanded": String(each === open) });
    }
    if (open) void fill(open);
  };
  const fill = async (way: Way) => {
    more = await load();
    if (open !== way) return;
    dress(panel, { "aria-label": words.more[way]() });
    const outOfReach = () => html("p", { role: "status" }, words.more.outOfReach());
    panel.replaceChildren(more ? more.panel(way) : outOfReach());
    if (scene) more?.show(way, scene);
  };
  for (const each of buttons) dress(each, { "aria-expanded": "false" });
  return {
    node,
    notice,
    show(now) {
      scene = now;
      if (open) more?.show(open, now);
    },
    async arrive(linked) {
      const answer = await linked;
      const loaded = answer && (await load());
      say(notice, answer && loaded ? loaded.arrive(answer) : words.more.outOfReach());
    },
  };
}
