/**
 * Wishes: pick what should be different, and take one of up to three blends in one tap.
 */
import type { Wishes } from "#core/order/wishes/wish.ts";
import { button, hide, html, say } from "../dom.ts";
import { capital, sayClasses } from "../sayings.ts";
import type { Scene } from "../scene.ts";
import type { MoreGround, Panel } from "./ground.ts";
import { wishForm } from "./wish-form.ts";
import { type Offered, type Outcome, isWish, searchWishes } from "./wish-search.ts";

/** Silence after the last change before it is searched, so that typing never waits [ms]. */
const HUSH_MS = 250;
/** A search this long is told of [ms] */
const LONG_MS = 500;

export function wishPanel(ground: MoreGround): Panel {
  const { words, doAct } = ground;
  const status = html("p", { class: "aside", role: "status" });
  const list = html("ul", { class: "wish-offers", role: "list" });
  const form = wishForm(ground, () => changed());
  let scene: Scene | undefined;
  let shown: Scene["blend"];
  let hush: ReturnType<typeof setTimeout> | undefined;
  let late: ReturnType<typeof setTimeout> | undefined;
  // Counts searches, so that an earlier one never answers a later wish.
  let asked = 0;

  const rest = (sentence: string) => {
    asked += 1;
    clearTimeout(hush);
    clearTimeout(late);
    hide(list, true);
    say(status, sentence);
  };
  const take = ({ scene: taken }: Offered) => {
    form.clear();
    doAct({ kind: "take-offer", choice: taken.state.choice });
    rest(words.wish.taken());
    status.focus();
  };
  const search = async (from: Scene, wishes: Wishes) => {
    const mine = ++asked;
    const isWanted = () => mine === asked;
    late = setTimeout(() => isWanted() && say(status, words.wish.working()), LONG_MS);
    const outcome = await searchWishes(ground, from, wishes, isWanted);
    clearTimeout(late);
    if (!outcome || !isWanted()) return;
    say(status, headOf(ground, outcome));
    list.replaceChildren(...offersIn(outcome).map((each) => offerLine(ground, each, take)));
    hide(list, list.childElementCount === 0);
  };
  const changed = () => {
    rest("");
    const from = scene;
    const wishes = form.wishes();
    if (!from || !isWish(wishes)) return;
    if (!from.blend) return rest(words.wish.unfit());
    hush = setTimeout(() => void search(from, wishes), HUSH_MS);
  };

  status.tabIndex = -1;
  return {
    node: html(
      "div",
      {},
      html("p", { class: "aside" }, words.wish.lead()),
      form.node,
      status,
      list,
    ),
    show(now) {
      form.show(now);
      scene = now;
      if (now.blend === shown) return;
      shown = now.blend;
      if (isWish(form.wishes())) changed();
    },
  };
}

function headOf({ words }: MoreGround, outcome: Outcome): string {
  switch (outcome.kind) {
    case "found": {
      const { offers, isKept } = outcome;
      const found = offers.length > 0 ? [words.wish.found({ count: offers.length })] : [];
      return [...(isKept ? [words.wish.already()] : []), ...found].join(" ");
    }
    case "none": {
      const { because, nearest } = outcome;
      const others = nearest ? [words.wish.nearest({ wish: nearest.without })] : [];
      const why = because.length > 0 ? because : [words.wish.unmet()];
      return [...why, ...others].join(" ");
    }
    case "cannot-judge":
      return outcome.because.join(" ");
    case "out-of-reach":
      return words.wish.outOfReach();
  }
}

function offersIn(outcome: Outcome): readonly Offered[] {
  if (outcome.kind === "found") return outcome.offers;
  return outcome.kind === "none" && outcome.nearest ? [outcome.nearest] : [];
}

/** What it gains, what it gives up, what it is, and the button to take it. */
function offerLine(
  { words, language }: MoreGround,
  offered: Offered,
  take: (offered: Offered) => void,
): HTMLElement {
  const { judgement, price } = offered.scene;
  const facts = words.wish.facts({
    firmness: capital(sayClasses(judgement, language)),
    price: price ? language.money(price.jarMinor) : "",
  });
  const gains = sentence(offered.gains);
  return html(
    "li",
    { class: "wish-offer" },
    html("p", { class: "changes" }, html("strong", {}, gains)),
    ...(offered.gives ? [html("p", {}, sentence(offered.gives))] : []),
    html("p", { class: "aside" }, facts),
    button(
      { class: "buy take", "aria-label": `${language.words.offer.take()}: ${gains}` },
      () => take(offered),
      language.words.offer.take(),
    ),
  );
}

function sentence(words: string): string {
  return words && `${capital(words)}.`;
}
