/**
 * Order: the one button, the question when something changed meanwhile, and what stands once it is
 * done.
 */
import type { ProductOffer } from "#core/wire.ts";
import type { Phase } from "../checkout.ts";
import { type View, button, dress, hide, html, say, saySteady } from "../dom.ts";
import type { Language } from "../language.ts";
import { type Scene, ingredientOf } from "../scene.ts";
import { sayReasons } from "../sayings.ts";
import type { Advised } from "./offer.ts";

export interface OrderShown extends Advised {
  readonly phase: Phase;
  /** What to tell loudly: a trouble, or why the button did nothing; empty when all is well. */
  readonly alert: string;
}

export interface OrderDoings {
  buy(): void;
  confirm(): void;
  /** Back to the blend: a no, or another jar. */
  rest(): void;
}

/** The end of the page: button, alert, question, outcome. */
export function orderView(
  offer: ProductOffer,
  language: Language,
  doings: OrderDoings,
): View<OrderShown> {
  // Not `aria-disabled` through `button`: pressing a refused button has to explain, so the press goes through.
  const label = html("span", { class: "steady" });
  const buy = html("button", { type: "button", class: "buy", id: "buy" }, label);
  buy.addEventListener("click", doings.buy);
  const hint = html("p", { class: "hint steady", id: "buy-hint" });
  const alert = html("p", { class: "alert", role: "alert", part: "alert" });
  const panel = panelView(language, doings);
  const form = html("div", { class: "asking" }, buy, hint);
  const node = html("section", { class: "order" }, form, alert, panel.node);
  return {
    node,
    show(shown) {
      const { scene, phase } = shown;
      hide(form, phase.kind === "confirm" || phase.kind === "ordered");
      const isReady = scene.verdict === "orderable" && phase.kind === "idle";
      dress(buy, {
        "aria-disabled": isReady ? undefined : "true",
        "aria-describedby": "buy-hint",
        "aria-busy": phase.kind === "busy" ? "true" : undefined,
      });
      saySteady(label, buyWords(scene, phase, language));
      saySteady(hint, hintWords(scene, offer.practice, language));
      hide(hint, shown.alert !== "");
      say(alert, shown.alert);
      panel.show(shown);
    },
  };
}

function buyWords({ verdict, price }: Scene, phase: Phase, language: Language): string {
  if (phase.kind === "busy") return language.words.order.busy();
  if (verdict !== "orderable" || !price) return language.words.order.pay();
  return orderWords(language, price.totalMinor);
}

function hintWords(scene: Scene, practice: boolean, language: Language): string {
  const { order } = language.words;
  if (scene.verdict !== "orderable") return sayReasons(scene, language)[0] ?? "";
  return practice ? order.practice() : order.checked();
}

/** What follows a press: a question when something changed meanwhile, or the order as it stands. */
function panelView(language: Language, doings: OrderDoings): View<OrderShown> {
  const title = html("h3", { tabindex: -1 });
  const words = html("div", {});
  const answers = html("div", { class: "answers" });
  const node = html("div", { class: "panel" }, title, words, answers);
  let last: Phase | undefined;
  return {
    node,
    show({ phase, scene }) {
      if (phase === last) return;
      last = phase;
      hide(node, true);
      if (phase.kind !== "confirm" && phase.kind !== "ordered") return;
      hide(node, false);
      const panel =
        phase.kind === "confirm"
          ? question(phase, scene, language, doings)
          : outcome(phase, language, doings);
      say(title, panel.title);
      words.replaceChildren(...panel.sentences.map((sentence) => html("p", {}, sentence)));
      answers.replaceChildren(...panel.answers);
      title.focus();
    },
  };
}

type PhaseOf<Kind> = Extract<Phase, { kind: Kind }>;

interface Panel {
  readonly title: string;
  readonly sentences: readonly string[];
  readonly answers: readonly HTMLElement[];
}

/** The price or the recipe is not what the page showed: say old and new, and ask. */
function question(
  { quoted: { quote }, shownMinor, newRecipe }: PhaseOf<"confirm">,
  { state: { offer } }: Scene,
  language: Language,
  doings: OrderDoings,
): Panel {
  const { order } = language.words;
  const sentences = [order.nothingOrdered()];
  if (newRecipe) {
    const parts = quote.parts.map(
      ({ ingredient, name, share }) =>
        `${ingredientOf(offer, ingredient)?.name ?? name} ${language.percent(share)}`,
    );
    sentences.unshift(order.changedRecipe({ parts: parts.join(", ") }));
  }
  if (shownMinor !== quote.totalMinor) {
    const [before, now] = [language.money(shownMinor), language.money(quote.totalMinor)];
    sentences.unshift(order.changedPrice({ before, now }));
  }
  return {
    title: order.changed(),
    sentences,
    answers: [
      button({ class: "buy" }, doings.confirm, orderWords(language, quote.totalMinor)),
      button({ class: "quiet" }, doings.rest, order.no()),
    ],
  };
}

function outcome(
  { order: { reference, payUrl, orderUrl } }: PhaseOf<"ordered">,
  { words: { order } }: Language,
  doings: OrderDoings,
): Panel {
  const link = (kind: string, href: string, text: string) => html("a", { class: kind, href }, text);
  return {
    title: order.placed({ reference }),
    sentences: [payUrl ? order.madeOncePaid() : order.nothingToPay()],
    answers: [
      ...(payUrl ? [link("buy", payUrl, order.toPayment())] : []),
      link("quiet", orderUrl, order.see()),
      button({ class: "quiet" }, doings.rest, order.another()),
    ],
  };
}

function orderWords(language: Language, totalMinor: number): string {
  return language.words.order.payTotal({ total: language.money(totalMinor) });
}
