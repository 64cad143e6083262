/**
 * A choice in, the nearest orderable one out; nothing is stored.
 */
import type { Conflict } from "#core/order/nearest/conflicts.ts";
import { type Nearest, nearestOrderable } from "#core/order/nearest/nearest.ts";
import { SEVERAL_MUST_GIVE, sayChanges, sayConflict } from "#core/order/nearest-words.ts";
import type { NearestAnswer } from "#core/wire.ts";
import { Hono } from "hono";
import type { Offer, Offers } from "../actions/offer.ts";
import { readJson } from "../middleware.ts";
import { NearestRequestShape } from "../shapes.ts";
import { unjudged } from "./unjudged.ts";

export function nearestRoutes(offers: Offers) {
  return new Hono().post("/nearest", async (c) => {
    const { product, choice, zone } = await readJson(c, NearestRequestShape);
    const { wire, ground } = await offers.of(product, "recent", zone);
    return c.json(answerOf(nearestOrderable(wire.product, choice, ground), namesOf(wire)));
  });
}

/** @throws Refusal compose.choice.refused when the choice is none of this product */
function answerOf(nearest: Nearest, nameOf: (id: string) => string): NearestAnswer {
  switch (nearest.kind) {
    case "found": {
      const { kind, choice, moved, changes } = nearest;
      return { kind, choice, moved, changes, sentence: sayChanges(changes, nameOf) };
    }
    case "none": {
      const { kind, isWhole } = nearest;
      const conflicts = nearest.conflicts().map((each) => told(each, nameOf));
      const sentence = conflicts.length > 0 ? null : SEVERAL_MUST_GIVE;
      return { kind, conflicts, isWhole, sentence };
    }
    case "cannot-judge":
      return unjudged(nearest.findings, nameOf);
  }
}

function told(conflict: Conflict, nameOf: (id: string) => string) {
  return { ...conflict, sentence: sayConflict(conflict, nameOf) };
}

/** Ingredients under the maker's names, places under theirs. */
function namesOf({ ingredients, product }: Offer["wire"]): (id: string) => string {
  const names = new Map([...product.places, ...ingredients].map(({ id, name }) => [id, name]));
  return (id) => names.get(id) ?? id;
}
