/**
 * The wishes a customer can make, each a short list to pick from, so that nothing wrong can be typed.
 */
import { allowedAt } from "#core/compose/product.ts";
import { SUMMER_PARCEL_C } from "#core/judge/places.ts";
import type { Wishes } from "#core/order/wishes/wish.ts";
import type { ProductOffer } from "#core/wire.ts";
import { nameFamily } from "#core/words/words.ts";
import { type Child, button, hide, html } from "../dom.ts";
import { type Scene, nameOf } from "../scene.ts";
import type { MoreGround } from "./ground.ts";

/** Warmth a customer may ask for; common practice, no source [C] */
const WARMTHS_C = [25, 28, 30, 32, SUMMER_PARCEL_C];
/** Parts of today's price to choose from. */
const PRICE_PARTS = [1, 0.95, 0.9, 0.85, 0.8];
const RATING_GREATEST = 5;

interface Field {
  readonly node: HTMLElement;
  wish(): Wishes;
  clear(): void;
  show?(scene: Scene): void;
}

export interface WishForm {
  readonly node: HTMLElement;
  /** Empty when nothing is wished. */
  wishes(): Wishes;
  clear(): void;
  show(scene: Scene): void;
}

/** @param changed called when another wish is made */
export function wishForm(ground: MoreGround, changed: () => void): WishForm {
  const { words } = ground;
  const fields: Field[] = [
    choiceField("feel", words.wish.feel(), words.wish.asNow(), [
      ...(["softer", "firmer"] as const).map((feel) => option(words.wish[feel](), { feel })),
    ]),
    choiceField("oil", words.wish.oilPhase(), words.wish.asNow(), [
      ...(["thinner", "richer"] as const).map((way) =>
        option(words.wish[way](), { oilPhase: way }),
      ),
    ]),
    warmthField(ground),
    poreField(ground),
    priceField(ground),
    ingredientField(ground),
  ];
  const without = withoutField(ground);
  const clear = () => {
    for (const field of [...fields, without]) field.clear();
    hide(clearing, true);
  };
  const clearing = button(
    { class: "quiet" },
    () => {
      clear();
      changed();
    },
    words.wish.clear(),
  );
  const node = html(
    "div",
    { class: "wishes" },
    html("div", { class: "wish-fields" }, ...fields.map((field) => field.node)),
    without.node,
    clearing,
  );
  const wishes = () =>
    Object.assign({}, ...[...fields, without].map((field) => field.wish())) as Wishes;
  const shownAs = () => hide(clearing, Object.keys(wishes()).length === 0);
  shownAs();
  node.addEventListener("change", () => {
    shownAs();
    changed();
  });
  return {
    node,
    wishes,
    clear,
    show: (scene) => {
      for (const field of fields) field.show?.(scene);
    },
  };
}

interface Option {
  readonly words: string;
  readonly wish: Wishes;
}

function option(words: string, wish: Wishes): Option {
  return { words, wish };
}

/** The browser's own list; the first entry wishes nothing. */
function choiceField(name: string, label: string, nothing: string, options: readonly Option[]) {
  const id = `wish-${name}`;
  const select = html("select", { id });
  let shown = options;
  const fill = () => {
    const lines = [nothing, ...shown.map(({ words }) => words)];
    select.replaceChildren(...lines.map((line, value) => html("option", { value }, line)));
  };
  fill();
  const node = html(
    "div",
    { class: "wish" },
    html("label", { for: id }, label),
    html("div", { class: "picker" }, select),
  );
  hide(node, options.length === 0);
  return {
    node,
    wish: (): Wishes => shown[Number(select.value) - 1]?.wish ?? {},
    clear: () => (select.value = "0"),
    /** Other options; what was chosen stays chosen by its place in the list. */
    offer(others: readonly Option[]) {
      const { value } = select;
      shown = others;
      fill();
      select.value = value;
    },
  };
}

function warmthField({ words, offer, language }: MoreGround): Field {
  const least = offer.product.rules.softensAboveLeastCelsius ?? -Infinity;
  const options = WARMTHS_C.filter((celsius) => celsius > least).map((celsius) => {
    const warmth = language.degrees(celsius);
    const said = celsius === SUMMER_PARCEL_C ? words.wish.parcel({ warmth }) : warmth;
    return option(said, { holdsToCelsius: celsius });
  });
  return choiceField("holds", words.wish.holds(), words.wish.asNow(), options);
}

function poreField({ words, offer, language }: MoreGround): Field {
  const { poreRatingMost = RATING_GREATEST } = offer.product.rules;
  const options = Array.from({ length: Math.ceil(poreRatingMost) }, (_, most) =>
    option(language.number(most), { poreRatingMost: most }),
  );
  return choiceField("pores", words.wish.pores(), words.wish.any(), options);
}

/** Steps down from the price of the jar, as coarse as the shop rounds. A price that is chosen stays what it was. */
function priceField({ words, offer, language }: MoreGround): Field {
  const field = choiceField("price", words.wish.price(), words.wish.any(), [option("", {})]);
  let shown: number | undefined;
  return {
    ...field,
    show({ price, jar }) {
      const isChosen = Object.keys(field.wish()).length > 0;
      if (price?.jarMinor === shown || isChosen) return;
      shown = price?.jarMinor;
      hide(field.node, shown === undefined);
      const { roundUpToMinor = 1 } = offer.tariffs[jar.id] ?? {};
      const steps = PRICE_PARTS.map(
        (part) => Math.floor(((shown ?? 0) * part) / roundUpToMinor) * roundUpToMinor,
      );
      field.offer(
        [...new Set(steps)].map((priceMostMinor) =>
          option(language.money(priceMostMinor), { priceMostMinor }),
        ),
      );
    },
  };
}

/** What can be left out at all: oils that have a choice beside them, and butters that may go down to nothing. */
function ingredientField({ words, offer }: MoreGround): Field {
  const field = choiceField("ingredient", words.wish.ingredient(), words.wish.nothing(), [
    option("", {}),
  ]);
  let shown = "";
  return {
    ...field,
    show({ base }) {
      if (base.id === shown) return;
      shown = base.id;
      field.offer(
        leavable(offer, base.id).map((id) => option(nameOf(offer, id), { without: [id] })),
      );
      field.clear();
    },
  };
}

function leavable({ product }: ProductOffer, baseId: string): string[] {
  const base = product.bases.find(({ id }) => id === baseId);
  const oils = (base?.oils ?? []).flatMap(({ place, least }) => {
    const allowed = allowedAt(product, place);
    return allowed.length > 1 || least === 0 ? allowed : [];
  });
  const butters = (base?.butters ?? []).filter(({ least }) => least === 0);
  return [...new Set([...butters.map(({ ingredient }) => ingredient), ...oils])];
}

/** Allergen families that any of these ingredients belongs to, and scent. */
function withoutField({ words, offer, language }: MoreGround): Field {
  const families = new Set(offer.ingredients.flatMap(({ allergenFamilies }) => allergenFamilies));
  const box = (said: string) => {
    const input = html("input", { type: "checkbox" });
    const children: Child[] = [input, html("span", {}, said)];
    return { input, label: html("label", { class: "card chip tick" }, ...children) };
  };
  const scent = box(words.wish.scent());
  const boxes = [...families].map((family) => ({ family, ...box(nameFamily(family, language)) }));
  const all = [scent, ...boxes];
  return {
    node: html(
      "fieldset",
      { class: "without" },
      html("legend", {}, words.wish.without()),
      ...all.map(({ label }) => label),
    ),
    wish() {
      const out = boxes.filter(({ input }) => input.checked).map(({ family }) => family);
      return {
        ...(out.length > 0 ? { withoutFamilies: out } : {}),
        ...(scent.input.checked ? { unscented: true } : {}),
      };
    },
    clear() {
      for (const { input } of all) input.checked = false;
    },
  };
}
