/**
 * Price: which jar, how many, and what that comes to.
 */
import type { ProductOffer } from "#core/wire.ts";
import { type View, html, say } from "../dom.ts";
import type { Formats } from "../formats.ts";
import type { Price, Scene } from "../scene.ts";
import type { Act } from "../state.ts";
import { radioGroup } from "./radios.ts";

/** Jar, number of jars and price. */
export function priceView(
  offer: ProductOffer,
  formats: Formats,
  doAct: (act: Act) => void,
): View<Scene> {
  const jars = jarPicker(offer, formats, doAct);
  const quantity = quantityPicker(offer, doAct);
  const total = html("strong", { class: "total" });
  const each = html("p", { class: "each" });
  const node = html(
    "section",
    { class: "price" },
    html("h3", {}, "Your jar"),
    html("div", { class: "pickers" }, jars.node, quantity.node),
    html("p", { class: "sum" }, html("span", {}, "Total"), total),
    each,
  );
  return {
    node,
    show(scene) {
      jars.show(scene);
      quantity.show(scene);
      const { price } = scene;
      say(total, price ? formats.money(price.totalMinor) : "no price yet");
      say(
        each,
        price
          ? `${formats.money(price.jarMinor)} a jar, ${formats.money(price.per100gMinor)} per 100 g. ${taxWords(price, offer, formats)}`
          : "A blend that can’t be made has no price.",
      );
    },
  };
}

function taxWords({ taxMinor }: Price, { taxOnTop }: ProductOffer, formats: Formats): string {
  if (!taxOnTop) return "Tax, where due, is included.";
  return `These are before tax; ${formats.money(taxMinor)} tax is in the total.`;
}

function jarPicker(offer: ProductOffer, formats: Formats, doAct: (act: Act) => void): View<Scene> {
  const options = offer.product.jars.map(({ id, name, fillG }) => ({
    value: id,
    words: [html("span", {}, name, " ", html("small", {}, `${formats.number(fillG)} g`))],
  }));
  const group = radioGroup("jars", "Size", "card chip", options, (jar) =>
    doAct({ kind: "choose-jar", jar }),
  );
  return { node: group.node, show: ({ state }) => group.show(state.jar) };
}

/** The browser's own list: it offers exactly what may be ordered, so nothing wrong can be typed. */
function quantityPicker(offer: ProductOffer, doAct: (act: Act) => void): View<Scene> {
  const numbers = Array.from({ length: offer.product.quantityMost }, (_, at) => String(at + 1));
  const select = html("select", { id: "quantity" }, ...numbers.map((n) => html("option", {}, n)));
  select.addEventListener("change", () =>
    doAct({ kind: "set-quantity", quantity: Number(select.value) }),
  );
  return {
    node: html(
      "div",
      { class: "quantity" },
      html("label", { for: "quantity" }, "How many jars"),
      html("div", { class: "picker" }, select),
    ),
    show({ state }) {
      const quantity = String(state.quantity);
      if (select.value !== quantity) select.value = quantity;
    },
  };
}
