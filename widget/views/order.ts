/**
 * Order: the one button, the question when something changed meanwhile, and what stands once it is
 * done.
 */
import type { ProductOffer } from "#core/wire.ts";
import type { Phase } from "../checkout.ts";
import { type View, button, dress, hide, html, say } from "../dom.ts";
import type { Formats } from "../formats.ts";
import type { Scene } from "../scene.ts";
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
  formats: Formats,
  doings: OrderDoings,
): View<OrderShown> {
  // Not `aria-disabled` through `button`: pressing a refused button has to explain, so the press goes through.
  const buy = html("button", { type: "button", class: "buy", id: "buy" });
  buy.addEventListener("click", doings.buy);
  const hint = html("p", { class: "hint", id: "buy-hint" });
  const alert = html("p", { class: "alert", role: "alert", part: "alert" });
  const panel = panelView(formats, doings);
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
      say(buy, buyWords(scene, phase, formats));
      say(hint, hintWords(scene, offer.practice));
      hide(hint, shown.alert !== "");
      say(alert, shown.alert);
      panel.show(shown);
    },
  };
}

function buyWords({ verdict, price }: Scene, phase: Phase, formats: Formats): string {
  if (phase.kind === "busy") return "One moment …";
  if (verdict !== "orderable" || !price) return "Order and pay";
  return orderWords(formats, price.totalMinor);
}

function hintWords({ verdict, reasons }: Scene, practice: boolean): string {
  if (verdict !== "orderable") return reasons[0] ?? "";
  if (practice) return "Practice till: you will not be charged.";
  return "The shop checks blend and price once more before you pay.";
}

/** What follows a press: a question when something changed meanwhile, or the order as it stands. */
function panelView(formats: Formats, doings: OrderDoings): View<OrderShown> {
  const title = html("h3", { tabindex: -1 });
  const words = html("div", {});
  const answers = html("div", { class: "answers" });
  const node = html("div", { class: "panel" }, title, words, answers);
  let last: Phase | undefined;
  return {
    node,
    show({ phase }) {
      if (phase === last) return;
      last = phase;
      hide(node, true);
      if (phase.kind !== "confirm" && phase.kind !== "ordered") return;
      hide(node, false);
      const panel =
        phase.kind === "confirm" ? question(phase, formats, doings) : outcome(phase, doings);
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
  formats: Formats,
  doings: OrderDoings,
): Panel {
  const sentences = ["Nothing has been ordered yet."];
  if (newRecipe) {
    const recipe = quote.parts.map(({ name, share }) => `${name} ${formats.percent(share)}`);
    sentences.unshift(`The maker has changed this product. It is now: ${recipe.join(", ")}.`);
  }
  if (shownMinor !== quote.totalMinor) {
    const [before, now] = [formats.money(shownMinor), formats.money(quote.totalMinor)];
    sentences.unshift(`The page showed ${before} in all; it is now ${now}.`);
  }
  return {
    title: "Something changed just now",
    sentences,
    answers: [
      button({ class: "buy" }, doings.confirm, orderWords(formats, quote.totalMinor)),
      button({ class: "quiet" }, doings.rest, "No, back to my blend"),
    ],
  };
}

function outcome({ order }: PhaseOf<"ordered">, doings: OrderDoings): Panel {
  const { reference, payUrl, orderUrl } = order;
  const link = (kind: string, href: string, text: string) => html("a", { class: kind, href }, text);
  return {
    title: `Order ${reference} is placed`,
    sentences: [payUrl ? "It is made once it is paid." : "There is nothing left to pay."],
    answers: [
      ...(payUrl ? [link("buy", payUrl, "Go to payment")] : []),
      link("quiet", orderUrl, "See the order"),
      button({ class: "quiet" }, doings.rest, "Make another jar"),
    ],
  };
}

function orderWords(formats: Formats, totalMinor: number): string {
  return `Order and pay ${formats.money(totalMinor)}`;
}
