/**
 * The room by jar: of the choices that pass the rules, those that the jar's tariff sells. A tariff with a greatest
 * price does not sell what is dearer; one with a least price sells everything, some of it at that price.
 */
import type { Jar } from "../../compose/product.ts";
import { type Estimate, sampled } from "./interval.ts";
import { type Tariffs, priceOf } from "./prices.ts";
import type { Point, Space } from "./space.ts";

export interface JarRoom {
  readonly jar: string;
  /** Part of all choices that pass the rules and that this jar's tariff sells; without a tariff price is not asked. */
  readonly room: Estimate;
  /** Parts of all choices that pass the rules and are too dear, or have no price because a cost is missing. */
  readonly tooDear: number;
  readonly noPrice: number;
  /** Part of all choices that pass the rules and are lifted to the least price. */
  readonly atLeastPrice: number;
}

export interface JarTallies {
  /** Told of every drawn choice that passes the rules. */
  readonly see: (point: Point) => void;
  /**
   * @param drawn choices drawn in all
   * @param room what passes the rules
   */
  readonly rooms: (drawn: number, room: Estimate) => JarRoom[];
}

/** Tallies of a product's jars. */
export function jarTallies(
  space: Space,
  jars: readonly Jar[],
  tariffs: Tariffs | undefined,
): JarTallies {
  const tallies = jars.map(({ id }) => {
    const tariff = tariffs?.[id];
    return { id, tariff, sold: 0, tooDear: 0, noPrice: 0, atLeastPrice: 0 };
  });
  const see = (point: Point) => {
    for (const tally of tallies) {
      if (!tally.tariff) continue;
      const price = priceOf(space, point, tally.tariff);
      if ("jarMinor" in price) {
        tally.sold++;
        if (price.jarMinor === tally.tariff.leastMinor) tally.atLeastPrice++;
      } else if (price.findings.some(({ code }) => code === "price.blend.above-most")) {
        tally.tooDear++;
      } else tally.noPrice++;
    }
  };
  const rooms = (drawn: number, room: Estimate) =>
    tallies.map(({ id, tariff, sold, tooDear, noPrice, atLeastPrice }): JarRoom => {
      const part = (count: number) => (drawn > 0 ? count / drawn : 0);
      const asRuled = !tariff || drawn === 0 || room.share === 0 || tooDear + noPrice === 0;
      return {
        jar: id,
        room: asRuled ? room : sampled(sold, drawn),
        tooDear: part(tooDear),
        noPrice: part(noPrice),
        atLeastPrice: part(atLeastPrice),
      };
    });
  return { see, rooms };
}
