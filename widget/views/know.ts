/**
 * What a customer ought to know before paying: allergen families and fragrance allergens, pore rating, oil phase,
 * ingredients, keeping, and whether they may change their mind.
 */
import type { FragranceAllergen } from "#core/judge/fragrance.ts";
import type { OilPhase } from "#core/judge/oil-phase.ts";
import { inciOrder } from "#core/make/label-order.ts";
import type { Withdrawal } from "#core/order/withdrawal.ts";
import type { ProductOffer } from "#core/wire.ts";
import { nameFamily } from "#core/words/words.ts";
import { type Child, type View, hide, html, say } from "../dom.ts";
import type { Language } from "../language.ts";
import { type Scene, nameOf } from "../scene.ts";

/** Cautions and disclosure. */
export function knowView(offer: ProductOffer, language: Language): View<Scene> {
  const words = language.words.know;
  const allergens = html("p", {});
  const pores = html("p", {});
  const unrated = html("p", {});
  const oil = html("p", {});
  const fragrance = html("p", {});
  const untold = html("p", {});
  const scented = entry(
    words.fragrance(),
    fragrance,
    untold,
    html("p", { class: "aside" }, words.scented()),
  );
  // Where no scent can be chosen there is nothing to say of one.
  const mayScent = offer.ingredients.some(({ aromatic }) => aromatic);
  const mind = sayMind(offer.withdrawal, language);
  const inci = html("p", { class: "inci" });
  const node = html(
    "section",
    { class: "know" },
    html("h3", {}, words.title()),
    entry(words.allergens(), allergens),
    ...(mayScent ? [scented] : []),
    entry(words.pores(), pores, unrated, html("p", { class: "aside" }, words.poreMeaning())),
    entry(words.oil(), oil),
    deeper(words.inci(), inci, html("p", { class: "aside" }, words.inciOrder())),
    deeper(words.keepingTitle(), html("p", {}, words.patchTest()), html("p", {}, words.keeping())),
    ...(mind ? [entry(words.mind(), html("p", { dir: "auto" }, mind))] : []),
  );
  return {
    node,
    show(scene) {
      say(allergens, sayAllergens(scene, language));
      say(pores, sayPores(scene, offer, language));
      say(unrated, sayUnrated(scene, offer, language));
      hide(unrated, unrated.textContent === "");
      say(oil, sayOilPhase(scene.judgement?.oilPhase, language));
      if (scene.blend) {
        const { text, allergens: named, untold: unknown } = inciOrder(scene.blend);
        say(inci, text);
        say(fragrance, sayFragrance(named, language));
        say(untold, sayUntold(unknown, offer, language));
        hide(untold, unknown.length === 0);
      }
    },
  };
}

function entry(title: string, ...children: Child[]): HTMLElement {
  return html("div", { class: "entry" }, html("h4", {}, title), ...children);
}

function deeper(title: string, ...children: Child[]): HTMLElement {
  return html("details", { class: "deeper" }, html("summary", {}, title), ...children);
}

/** Families with the ingredients that bring them. */
function sayAllergens({ blend }: Scene, language: Language): string {
  const families = new Map<string, string[]>();
  for (const { ingredient } of blend?.parts ?? []) {
    for (const family of ingredient.allergenFamilies) {
      families.set(family, [...(families.get(family) ?? []), ingredient.name]);
    }
  }
  const { know } = language.words;
  const count = families.size;
  if (count === 0) return know.noFamilies();
  const named = [...families].map(
    ([family, names]) => `${nameFamily(family, language)} (${names.join(", ")})`,
  );
  return know.families({ families: named.join("; "), count });
}

function sayPores({ judgement }: Scene, offer: ProductOffer, language: Language): string {
  const highest = judgement?.poreRating.highest;
  const { know } = language.words;
  if (!highest) return know.noRating();
  const rating = language.number(highest.value, 1);
  return know.rating({ rating, name: nameOf(offer, highest.ingredient) });
}

function sayUnrated({ judgement }: Scene, offer: ProductOffer, { words }: Language): string {
  const names = (judgement?.poreRating.unrated ?? []).map((id) => nameOf(offer, id));
  return names.length === 0 ? "" : words.know.unrated({ names: names.join(", ") });
}

function sayOilPhase(phase: OilPhase | undefined, { words: { know } }: Language): string {
  switch (phase?.step) {
    case undefined:
      return know.oilUnknown();
    case "thin":
      return know.oilThin();
    case "ordinary":
      return know.oilOrdinary();
    case "thick":
      return know.oilThick();
  }
}

/** From a hundredth of a percent up with its figure, rounded up; below that by name alone. */
export function sayFragrance(named: readonly FragranceAllergen[], language: Language): string {
  const { know } = language.words;
  if (named.length === 0) return know.fragranceNone();
  const isTrace = ({ highPercent }: FragranceAllergen) => highPercent < 0.01;
  const list = named
    .filter((each) => !isTrace(each))
    .map(
      ({ name, highPercent }) => `${name} ${language.percent(Math.ceil(100 * highPercent - 1e-6))}`,
    );
  const traces = named.filter(isTrace).map(({ name }) => name);
  const both = [
    ...(list.length > 0 ? [list.join(", ")] : []),
    ...(traces.length > 0 ? [know.fragranceTraces({ names: traces.join(", ") })] : []),
  ];
  return know.fragranceMost({ list: both.join("; ") });
}

function sayUntold(ids: readonly string[], offer: ProductOffer, { words }: Language): string {
  return words.know.fragranceUntold({ names: ids.map((id) => nameOf(offer, id)).join(", ") });
}

export function sayMind(told: Withdrawal | undefined, { words: { know } }: Language): string {
  switch (told?.kind) {
    case undefined:
      return "";
    case "days":
      return know.mindDays({ days: told.days });
    case "made-to-wish":
      return know.mindOwnWish();
    case "own-words":
      return told.words;
  }
}
