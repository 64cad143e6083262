/**
 * A choice and wishes in, up to three orderable choices out; nothing is stored.
 */
import { finding } from "#core/finding.ts";
import {
  type WishNames,
  sayGains,
  sayGives,
  sayNoneMet,
  sayWishConflict,
} from "#core/order/wishes-words.ts";
import {
  type WishOffer,
  type Wished,
  type WishesExplained,
  atOnce,
  wishFor,
} from "#core/order/wishes/wishes.ts";
import type { WishesAnswer } from "#core/wire.ts";
import { INGREDIENT_IDS, ingredientById } from "#data/library.ts";
import { Hono } from "hono";
import { helpers } from "../documents/helpers.ts";
import { choiceRefused } from "../actions/choice-refused.ts";
import type { Offer, Offers } from "../actions/offer.ts";
import { readJson } from "../middleware.ts";
import { Refusal } from "../problem.ts";
import { WishesRequestShape } from "../shapes.ts";
import { unjudged } from "./unjudged.ts";

/** A family nobody here knows is a slip of the pen, and would keep nothing out. */
const FAMILIES: ReadonlySet<string> = new Set(
  INGREDIENT_IDS.flatMap((id) => ingredientById(id)!.allergenFamilies),
);

const ASKED = "The choice or a wish";

export function wishesRoutes(offers: Offers) {
  return new Hono().post("/wishes", async (c) => {
    const { product, choice, zone, jar, wishes } = await readJson(c, WishesRequestShape);
    const { wire, ground } = await offers.of(product, "recent", zone);
    const tariff = jar === undefined ? undefined : wire.tariffs[jar];
    if (jar !== undefined && !tariff) {
      throw choiceRefused([finding("compose.jar.unknown", jar)], ASKED);
    }
    for (const family of wishes.withoutFamilies ?? []) {
      const isKnown =
        FAMILIES.has(family) ||
        wire.ingredients.some(({ allergenFamilies }) => allergenFamilies.includes(family));
      if (isKnown) continue;
      const detail = `“${family}” is no allergen family known here.`;
      const pointer = "/wishes/withoutFamilies";
      throw new Refusal("request.body.invalid", detail, { errors: [{ pointer, detail }] });
    }
    const wished = wishFor(wire.product, choice, wishes, ground, { tariff });
    return c.json(answerOf(wished, namesOf(wire)));
  });
}

/** @throws Refusal compose.choice.refused when the choice or a wish is none of this product */
function answerOf(wished: Wished, names: WishNames): WishesAnswer {
  switch (wished.kind) {
    case "found": {
      const { kind, isWhole } = wished;
      return { kind, offers: wished.offers.map((each) => told(each, names)), isWhole };
    }
    case "none":
      return { kind: wished.kind, ...explained(atOnce(wished.explain()), names) };
    case "cannot-judge":
      return unjudged(wished.findings, names.nameOf, ASKED);
  }
}

function told({ blend: _blend, gains, gives, ...offer }: WishOffer, names: WishNames) {
  const sentences = { gains: sayGains(gains, names), gives: sayGives(gives, names) };
  return { ...offer, gains, gives, sentences };
}

function explained({ because, nearest, isOrderable }: WishesExplained, names: WishNames) {
  return {
    because: because.map((each) => ({ ...each, sentence: sayWishConflict(each, names) })),
    sentence: because.length === 0 ? sayNoneMet(isOrderable) : null,
    nearest: nearest ? { ...told(nearest, names), without: nearest.without } : null,
    isOrderable,
  };
}

/** Ingredients under the maker's names, money as the shop writes it. */
function namesOf({ ingredients, currency, locale }: Offer["wire"]): WishNames {
  const names = new Map(ingredients.map(({ id, name }) => [id, name]));
  return {
    nameOf: (id) => names.get(id) ?? ingredientById(id)?.name ?? id,
    money: (minor) => helpers.money(minor, currency, locale),
  };
}
