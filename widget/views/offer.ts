/**
 * The offer beside a refusal: the nearest blend that can be made, what it changes, and one tap to take it.
 */
import type { Advice } from "../advice.ts";
import { type Child, type View, button, hide, html, say } from "../dom.ts";
import type { Language } from "../language.ts";
import type { Scene } from "../scene.ts";
import type { Act } from "../state.ts";
import { capital, sayClasses, sayHolds } from "../sayings.ts";

export interface Advised {
  readonly scene: Scene;
  /** Nothing while it is looked for, or when there is nothing to look for. */
  readonly advice: Advice | undefined;
}

/** @param taken called when the offer is taken, and with it the button */
export function offerView(
  language: Language,
  doAct: (act: Act) => void,
  taken: () => void,
): View<Advised> {
  const words = language.words.offer;
  let offered: Scene | undefined;
  const changes = html("p", { class: "changes" });
  const entries = html("dl", { class: "before-after" });
  const take = button({ class: "buy take" }, () => offered && accept(offered), words.take());
  const accept = ({ state: { choice } }: Scene) => {
    doAct({ kind: "take-offer", choice });
    taken();
  };
  const title = html("h4", {}, words.title());
  const offer = html("div", { class: "offer" }, title, changes, entries, take);
  const without = html("p", {});
  let shown: Advice | undefined;
  const node = html("div", {}, offer, without);
  return {
    node,
    show({ scene, advice }) {
      if (advice === shown && shown) return;
      shown = advice;
      offered = advice?.kind === "found" ? advice.scene : undefined;
      hide(offer, !offered);
      hide(without, !advice || advice.kind === "found");
      if (advice?.kind === "found") {
        say(changes, `${capital(advice.changes)}.`);
        entries.replaceChildren(...beforeAfter(scene, advice.scene, language));
      } else if (advice) say(without, words[advice.kind]());
    },
  };
}

/** What it would be instead of what it is. */
function beforeAfter(before: Scene, after: Scene, language: Language): HTMLElement[] {
  const words = language.words.offer;
  const warmth = language.degrees(after.state.offer.product.useCelsius);
  const lines: [string, (scene: Scene) => string][] = [
    [words.firmnessAt({ warmth }), ({ judgement }) => sayClasses(judgement, language)],
    [words.holdsTo(), ({ judgement }) => sayHolds(judgement, language)],
    [words.jar(), ({ price }) => (price ? language.money(price.jarMinor) : "")],
  ];
  return lines.map(([name, tell]) =>
    html(
      "div",
      {},
      html("dt", {}, name),
      html("dd", {}, ...insteadOf(tell(before), tell(after), language)),
    ),
  );
}

/** What will be, in strong words, and what is now. */
function insteadOf(before: string, after: string, { words }: Language): Child[] {
  const strong = html("strong", {}, after || words.offer.unknown());
  if (before === after) return [strong, words.offer.asNow()];
  return [strong, before ? words.offer.now({ before }) : ""];
}
