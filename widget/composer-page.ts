/**
 * All regions of a loaded composer, put together in the order of the story.
 */
import type { ProductOffer } from "#core/wire.ts";
import type { Advice } from "./advice.ts";
import { type View, button, hide, html, say, saySteady } from "./dom.ts";
import type { Language } from "./language.ts";
import type { MoreHost } from "./more/ground.ts";
import type { Scene } from "./scene.ts";
import type { Act } from "./state.ts";
import { sayFirmness, sayFirmnessShort, sayReasons } from "./sayings.ts";
import { baseView, blendView } from "./views/compose.ts";
import { thumbnail } from "./views/curve.ts";
import { judgeView } from "./views/judge.ts";
import { knowView } from "./views/know.ts";
import { type MoreView, moreView } from "./views/more.ts";
import type { Advised } from "./views/offer.ts";
import { type OrderDoings, type OrderShown, orderView } from "./views/order.ts";
import { priceView } from "./views/price.ts";

export interface ComposerPage extends View<OrderShown> {
  readonly arrive: MoreView["arrive"];
}

/** Build the page of an offer. */
export function composerPage(host: MoreHost, doings: OrderDoings): ComposerPage {
  const { offer, language, doAct } = host;
  const base = baseView(offer, language, doAct);
  const judge = judgeView(offer, language, doAct);
  const blend = blendView(offer, language, doAct);
  const more = moreView(host);
  const know = knowView(offer, language);
  const price = priceView(offer, language, doAct);
  const order = orderView(offer, language, doings);
  const strip = stripView(offer, language, doAct);
  const choosing = html(
    "div",
    { class: "choosing" },
    base.node,
    judge.node,
    html("div", { class: "shares" }, blend.node, more.node, know.node, strip.node),
    price.node,
  );
  const node = html(
    "article",
    {
      class: "composer",
      lang: language.lang,
      part: "composer",
      "aria-labelledby": "product-title",
    },
    html(
      "header",
      { class: "head" },
      html("h2", { id: "product-title", lang: offer.locale }, offer.product.name),
      html("p", { lang: offer.locale }, offer.product.words),
    ),
    ...(offer.practice ? [html("p", { class: "practice" }, language.words.page.practice())] : []),
    more.notice,
    choosing,
    order.node,
  );
  return {
    node,
    arrive: more.arrive,
    show(shown) {
      for (const view of [base, blend, more, know, price]) view.show(shown.scene);
      for (const view of [judge, strip]) view.show(shown);
      order.show(shown);
      choosing.inert = shown.phase.kind === "busy";
    },
  };
}

/** One sentence for those who listen instead of look. */
export function sayScene(scene: Scene, advice: Advice | undefined, language: Language): string {
  const { spoken, verdict } = language.words;
  const sentences: string[] = [];
  if (scene.verdict !== "orderable") {
    const reason = sayReasons(scene, language)[0] ?? "";
    sentences.push(spoken.refused({ verdict: verdict[scene.verdict](), reason }));
    if (advice?.kind === "found") sentences.push(spoken.nearest({ changes: advice.changes }));
  } else {
    sentences.push(spoken.orderable({ firmness: sayFirmness(scene.judgement, language) }));
    if (scene.price) sentences.push(spoken.jar({ price: language.money(scene.price.jarMinor) }));
  }
  return sentences.join(" ");
}

/**
 * Verdict, firmness and price in one line at the foot of the screen while the shares are in sight
 * and the picture may not be, and the offer where there is one. All of it stands elsewhere too, so
 * it is not read out twice and Tab passes by.
 */
function stripView(
  offer: ProductOffer,
  language: Language,
  doAct: (act: Act) => void,
): View<Advised> {
  const says = language.words;
  const picture = thumbnail(offer);
  const words = html("span", { class: "strip-words steady" });
  const price = html("strong", { class: "steady" });
  const changes = html("span", { class: "changes" });
  const line = html("div", { class: "strip-line" }, html("div", {}, picture.node), words, price);
  let offered: Scene | undefined;
  const press = () => offered && doAct({ kind: "take-offer", choice: offered.state.choice });
  const take = button({ class: "quiet", tabindex: -1 }, press, says.offer.take());
  const nearest = html("div", { class: "strip-line" }, changes, take);
  return {
    node: html("div", { class: "strip", "aria-hidden": "true" }, line, nearest),
    show({ scene, advice }) {
      const { verdict, judgement, price: shown } = scene;
      picture.show(scene);
      const isReady = verdict === "orderable";
      saySteady(words, isReady ? sayFirmnessShort(judgement, language) : says.verdict[verdict]());
      saySteady(price, shown ? language.money(shown.totalMinor) : "");
      offered = advice?.kind === "found" ? advice.scene : undefined;
      hide(nearest, !offered);
      if (advice?.kind === "found") say(changes, says.offer.nearest({ changes: advice.changes }));
    },
  };
}
