/**
 * Wishes against an exhaustive grid: never more than 2 % worse than the grid's best, and never none where it has one.
 */
import { type Choice, startingChoice } from "#core/compose/product.ts";
import { wishFor } from "#core/order/wishes/wishes.ts";
import { ingredientById } from "#data/library.ts";
import { describe, expect, it } from "vitest";
import { dice } from "../nearest/choices.ts";
import { bestWished, judged, keeps, scoreFrom } from "./grid.ts";
import { smallProduct, someWishes, tariffFor } from "./small-products.ts";

const STEP = 100;
const RUNS = 12;
describe("wishes against an exhaustive grid of 1 %", () => {
  it("are met within 2 % of the best, and never called impossible where the grid has a blend", () => {
    const at = dice(5);
    const seen = { found: 0, none: 0 };
    for (let run = 0; run < RUNS; run++) {
      const product = smallProduct(at);
      const own: Choice = startingChoice(product.bases[0]!);
      const wishes = someWishes(
        at,
        product.places.flatMap(({ allowed }) => allowed),
      );
      const tariff = at.roll() < 0.5 ? tariffFor(product) : undefined;
      const wished = wishFor(product, own, wishes, { ingredientOf: ingredientById }, { tariff });
      if (wished.kind === "cannot-judge") throw new Error(JSON.stringify(wished.findings));
      const limit = wished.kind === "found" ? wished.offers[0]!.score : undefined;
      const best = bestWished(product, own, wishes, { step: STEP, limit }, tariff);
      seen[wished.kind]++;
      const about = JSON.stringify({
        run,
        wishes,
        best,
        kind: wished.kind,
        score: wished.kind === "found" ? wished.offers[0]!.score : null,
      });
      if (wished.kind === "none") {
        expect(best, about).toBeUndefined();
        continue;
      }
      const [first] = wished.offers;
      const is = judged(product, first!.choice)!;
      const mine = judged(product, own)!;
      expect(keeps(wishes, mine, is, tariff), about).toBe(true);
      expect(scoreFrom(wishes, own, mine, first!.choice, is, tariff), about).toBeCloseTo(
        first!.score,
        6,
      );
      if (best !== undefined) expect(first!.score, about).toBeLessThanOrEqual(1.02 * best + 1e-9);
    }
    expect(seen.found).toBeGreaterThan(4);
    expect(seen.none).toBeGreaterThan(1);
  }, 240_000);
});
