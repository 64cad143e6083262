/**
 * All regions of a loaded composer, put together in the order of the story.
 */
import type { ProductOffer } from "#core/wire.ts";
import type { Advice } from "./advice.ts";
import { type View, button, hide, html, say } from "./dom.ts";
import type { Formats } from "./formats.ts";
import type { Scene } from "./scene.ts";
import type { Act } from "./state.ts";
import { PRACTICE, TAKE, VERDICT_WORD, sayFirmness, sayFirmnessShort } from "./words.ts";
import { baseView, blendView } from "./views/compose.ts";
import { thumbnail } from "./views/curve.ts";
import { judgeView } from "./views/judge.ts";
import { knowView } from "./views/know.ts";
import type { Advised } from "./views/offer.ts";
import { type OrderDoings, type OrderShown, orderView } from "./views/order.ts";
import { priceView } from "./views/price.ts";

/** Build the page of an offer. */
export function composerPage(
  offer: ProductOffer,
  formats: Formats,
  doAct: (act: Act) => void,
  doings: OrderDoings,
): View<OrderShown> {
  const base = baseView(offer, formats, doAct);
  const judge = judgeView(offer, formats, doAct);
  const blend = blendView(offer, formats, doAct);
  const know = knowView(offer, formats);
  const price = priceView(offer, formats, doAct);
  const order = orderView(offer, formats, doings);
  const strip = stripView(offer, formats, doAct);
  const choosing = html(
    "div",
    { class: "choosing" },
    base.node,
    judge.node,
    html("div", { class: "shares" }, blend.node, know.node, strip.node),
    price.node,
  );
  const node = html(
    "article",
    { class: "composer", lang: "en", part: "composer", "aria-labelledby": "product-title" },
    html(
      "header",
      { class: "head" },
      html("h2", { id: "product-title" }, offer.product.name),
      html("p", {}, offer.product.words),
    ),
    ...(offer.practice ? [html("p", { class: "practice" }, PRACTICE)] : []),
    choosing,
    order.node,
  );
  return {
    node,
    show(shown) {
      for (const view of [base, blend, know, price]) view.show(shown.scene);
      for (const view of [judge, strip]) view.show(shown);
      order.show(shown);
      choosing.inert = shown.phase.kind === "busy";
    },
  };
}

/** One sentence for those who listen instead of look. */
export function sayScene(scene: Scene, advice: Advice | undefined, formats: Formats): string {
  if (scene.verdict !== "orderable") {
    const offer =
      advice?.kind === "found" ? ` The nearest blend that can be made: ${advice.changes}.` : "";
    return `${VERDICT_WORD[scene.verdict]}. ${scene.reasons[0] ?? ""}${offer}`;
  }
  const price = scene.price ? ` ${formats.money(scene.price.jarMinor)} a jar.` : "";
  return `${sayFirmness(scene.judgement, formats)}.${price}`;
}

/**
 * Verdict, firmness and price in one line at the foot of the screen while the shares are in sight
 * and the picture may not be, and the offer where there is one. All of it stands elsewhere too, so
 * it is not read out twice and Tab passes by.
 */
function stripView(
  offer: ProductOffer,
  formats: Formats,
  doAct: (act: Act) => void,
): View<Advised> {
  const picture = thumbnail(offer);
  const words = html("span", { class: "strip-words" });
  const price = html("strong", {});
  const changes = html("span", { class: "changes" });
  const line = html("div", { class: "strip-line" }, html("div", {}, picture.node), words, price);
  let offered: Scene | undefined;
  const press = () => offered && doAct({ kind: "take-offer", choice: offered.state.choice });
  const take = button({ class: "quiet", tabindex: -1 }, press, TAKE);
  const nearest = html("div", { class: "strip-line" }, changes, take);
  return {
    node: html("div", { class: "strip", "aria-hidden": "true" }, line, nearest),
    show({ scene, advice }) {
      const { verdict, judgement, price: shown } = scene;
      picture.show(scene);
      const isReady = verdict === "orderable";
      say(words, isReady ? sayFirmnessShort(judgement, formats) : VERDICT_WORD[verdict]);
      say(price, shown ? formats.money(shown.totalMinor) : "");
      offered = advice?.kind === "found" ? advice.scene : undefined;
      hide(nearest, !offered);
      if (advice?.kind === "found") say(changes, `Nearest: ${advice.changes}`);
    },
  };
}
