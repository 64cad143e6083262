/**
 * Price: which jar, how many, and what that comes to.
 */
import type { ProductOffer } from "#core/wire.ts";
import { type View, html, saySteady } from "../dom.ts";
import type { Language } from "../language.ts";
import type { Price, Scene } from "../scene.ts";
import type { Act } from "../state.ts";
import { radioGroup } from "./radios.ts";

/** Jar, number of jars and price. */
export function priceView(
  offer: ProductOffer,
  language: Language,
  doAct: (act: Act) => void,
): View<Scene> {
  const words = language.words.price;
  const jars = jarPicker(offer, language, doAct);
  const quantity = quantityPicker(offer, words, doAct);
  const total = html("strong", { class: "total steady" });
  const each = html("p", { class: "each steady" });
  const node = html(
    "section",
    { class: "price" },
    html("h3", {}, words.title()),
    html("div", { class: "pickers" }, jars.node, quantity.node),
    html("p", { class: "sum" }, html("span", {}, words.total()), total),
    each,
  );
  return {
    node,
    show(scene) {
      jars.show(scene);
      quantity.show(scene);
      const { price } = scene;
      saySteady(total, price ? language.money(price.totalMinor) : words.none());
      saySteady(
        each,
        price
          ? `${eachWords(price, language)} ${taxWords(price, offer, language)}`
          : words.noneBecause(),
      );
    },
  };
}

function eachWords({ jarMinor, per100gMinor }: Price, language: Language): string {
  const [jar, per100g] = [language.money(jarMinor), language.money(per100gMinor)];
  return language.words.price.each({ jar, per100g });
}

function taxWords({ taxMinor }: Price, { taxOnTop }: ProductOffer, language: Language): string {
  const { price } = language.words;
  if (!taxOnTop) return price.taxInside();
  return price.taxOnTop({ tax: language.money(taxMinor) });
}

function jarPicker(
  offer: ProductOffer,
  language: Language,
  doAct: (act: Act) => void,
): View<Scene> {
  const options = offer.product.jars.map(({ id, name, fillG }) => ({
    value: id,
    words: [
      html(
        "span",
        { lang: offer.locale },
        name,
        " ",
        html("small", {}, `${language.number(fillG, 0)}\u00a0g`),
      ),
    ],
  }));
  const group = radioGroup("jars", language.words.price.size(), "card chip", options, (jar) =>
    doAct({ kind: "choose-jar", jar }),
  );
  return { node: group.node, show: ({ state }) => group.show(state.jar) };
}

/** The browser's own list: it offers exactly what may be ordered, so nothing wrong can be typed. */
function quantityPicker(
  offer: ProductOffer,
  words: Language["words"]["price"],
  doAct: (act: Act) => void,
): View<Scene> {
  const numbers = Array.from({ length: offer.product.quantityMost }, (_, at) => String(at + 1));
  const select = html("select", { id: "quantity" }, ...numbers.map((n) => html("option", {}, n)));
  select.addEventListener("change", () =>
    doAct({ kind: "set-quantity", quantity: Number(select.value) }),
  );
  return {
    node: html(
      "div",
      { class: "quantity" },
      html("label", { for: "quantity" }, words.quantity()),
      html("div", { class: "picker" }, select),
    ),
    show({ state }) {
      const quantity = String(state.quantity);
      if (select.value !== quantity) select.value = quantity;
    },
  };
}
