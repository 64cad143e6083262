/**
 * A choice and wishes in, up to three orderable choices out; nothing is stored.
 */
import { finding, sayFinding } from "#core/finding.ts";
import { sayFamily } from "#core/make/caution-words.ts";
import {
  NOTHING_TO_WISH_FOR,
  SEVERAL_WISHES_MUST_GIVE,
  type WishNames,
  sayGains,
  sayGives,
  sayWishConflict,
} from "#core/order/wishes-words.ts";
import { type WishOffer, type WishesExplained, wishFor } from "#core/order/wishes/wishes.ts";
import { INGREDIENT_IDS, ingredientById } from "#data/library.ts";
import { Hono } from "hono";
import { helpers } from "../documents/helpers.ts";
import type { Offer, Offers } from "../actions/offer.ts";
import { readJson } from "../middleware.ts";
import { Refusal } from "../problem.ts";
import { WishesRequestShape } from "../shapes.ts";

/** A family nobody here knows is a slip of the pen, and would keep nothing out. */
const FAMILIES: ReadonlySet<string> = new Set(
  INGREDIENT_IDS.flatMap((id) => ingredientById(id)!.allergenFamilies),
);

export function wishesRoutes(offers: Offers) {
  return new Hono().post("/wishes", async (c) => {
    const { product, choice, zone, jar, wishes } = await readJson(c, WishesRequestShape);
    const { wire, ground } = await offers.of(product, "recent", zone);
    const tariff = jar === undefined ? undefined : wire.tariffs[jar];
    if (jar !== undefined && !tariff) {
      const detail = "The choice or a wish does not fit this product; nothing was stored.";
      const findings = [finding("compose.jar.unknown", jar)];
      throw new Refusal("compose.choice.refused", detail, { findings });
    }
    for (const family of wishes.withoutFamilies ?? []) {
      const isKnown =
        FAMILIES.has(family) ||
        wire.ingredients.some(({ allergenFamilies }) => allergenFamilies.includes(family));
      if (isKnown) continue;
      const detail = `“${family}” is no allergen family known here.`;
      const pointer = "#/wishes/withoutFamilies";
      throw new Refusal("request.body.invalid", detail, { errors: [{ pointer, detail }] });
    }
    const wished = wishFor(wire.product, choice, wishes, ground, { tariff });
    const names = namesOf(wire);
    switch (wished.kind) {
      case "found": {
        const { kind, isWhole } = wished;
        return c.json({ kind, offers: wished.offers.map((each) => told(each, names)), isWhole });
      }
      case "none":
        return c.json({ kind: wished.kind, ...explained(wished.explain(), names) });
      case "cannot-judge": {
        const { kind, findings } = wished;
        if (findings.some(({ code }) => code.startsWith("compose."))) {
          const detail = "The choice or a wish does not fit this product; nothing was stored.";
          throw new Refusal("compose.choice.refused", detail, { findings });
        }
        const said = findings.map((each) => ({
          ...each,
          sentence: sayFinding(each, names.nameOf),
        }));
        return c.json({ kind, findings: said });
      }
    }
  });
}

function told({ blend: _blend, gains, gives, ...offer }: WishOffer, names: WishNames) {
  const sentences = { gains: sayGains(gains, names), gives: sayGives(gives, names) };
  return { ...offer, gains, gives, sentences };
}

function explained({ because, nearest, isOrderable }: WishesExplained, names: WishNames) {
  return {
    because: because.map((each) => ({ ...each, sentence: sayWishConflict(each, names) })),
    sentence: !isOrderable
      ? NOTHING_TO_WISH_FOR
      : because.length === 0
        ? SEVERAL_WISHES_MUST_GIVE
        : null,
    nearest: nearest ? { ...told(nearest, names), without: nearest.without } : null,
    isOrderable,
  };
}

/** Ingredients under the maker's names, families in words, money as the shop writes it. */
function namesOf({ ingredients, currency, locale }: Offer["wire"]): WishNames {
  const names = new Map(ingredients.map(({ id, name }) => [id, name]));
  return {
    nameOf: (id) => names.get(id) ?? ingredientById(id)?.name ?? sayFamily(id),
    money: (minor) => helpers.money(minor, currency, locale),
  };
}
