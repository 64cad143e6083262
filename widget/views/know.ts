/**
 * What a customer ought to know before paying: allergen families, pore rating, oil phase,
 * ingredients, keeping.
 */
import type { ProductOffer } from "#core/wire.ts";
import { type Child, type View, hide, html, say } from "../dom.ts";
import type { Formats } from "../formats.ts";
import { type Scene, nameOf } from "../scene.ts";
import { KEEPING, OIL_PHASE_WORD, PATCH_TEST, PORE_MEANING, sayFamily } from "../words.ts";

/** Cautions and disclosure. */
export function knowView(offer: ProductOffer, formats: Formats): View<Scene> {
  const allergens = html("p", {});
  const pores = html("p", {});
  const unrated = html("p", {});
  const oil = html("p", {});
  const inci = html("p", { class: "inci" });
  const node = html(
    "section",
    { class: "know" },
    html("h3", {}, "Good to know before you order"),
    entry("Allergen families", allergens),
    entry("Pore rating", pores, unrated, html("p", { class: "aside" }, PORE_MEANING)),
    entry("Oil on the skin", oil),
    deeper(
      "Ingredients as the label names them",
      inci,
      html("p", { class: "aside" }, "INCI names, the largest share first."),
    ),
    deeper("Trying and keeping it", html("p", {}, PATCH_TEST), html("p", {}, KEEPING)),
  );
  return {
    node,
    show(scene) {
      say(allergens, sayAllergens(scene));
      say(pores, sayPores(scene, offer, formats));
      say(unrated, sayUnrated(scene, offer));
      hide(unrated, unrated.textContent === "");
      const step = scene.judgement?.oilPhase?.step;
      say(oil, step ? `${OIL_PHASE_WORD[step]}.` : "Not known for these oils.");
      say(inci, inciList(scene));
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
export function sayAllergens({ blend }: Scene): string {
  const families = new Map<string, string[]>();
  for (const { ingredient } of blend?.parts ?? []) {
    for (const family of ingredient.allergenFamilies) {
      families.set(family, [...(families.get(family) ?? []), ingredient.name]);
    }
  }
  if (families.size === 0) {
    return "None of these ingredients is listed with a known allergen family. Anyone can react to anything.";
  }
  const named = [...families].map(
    ([family, names]) => `${sayFamily(family)} (${names.join(", ")})`,
  );
  return `Contains something from: ${named.join("; ")}. If one of these troubles you, please choose another oil or leave it.`;
}

function sayPores({ judgement }: Scene, offer: ProductOffer, formats: Formats): string {
  const highest = judgement?.poreRating.highest;
  if (!highest) return "None of these ingredients has a published rating.";
  const value = formats.number(highest.value, 1);
  return `${value} of 5, from ${nameOf(offer, highest.ingredient)}, the highest listed in this blend.`;
}

function sayUnrated({ judgement }: Scene, offer: ProductOffer): string {
  const names = (judgement?.poreRating.unrated ?? []).map((id) => nameOf(offer, id));
  return names.length === 0
    ? ""
    : `No published rating, which is not a nought: ${names.join(", ")}.`;
}

function inciList({ blend }: Scene): string {
  const parts = [...(blend?.parts ?? [])].sort((one, other) => other.share - one.share);
  return parts.map(({ ingredient }) => ingredient.inci).join(", ");
}
