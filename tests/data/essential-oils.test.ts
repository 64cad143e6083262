/**
 * Essential oils: what the law names must be named, no use range outruns the limits of what the oil holds, and no oil
 * goes in hotter than it can bear.
 */
import { describe, expect, it } from "vitest";
import { ingredientById } from "#data/library.ts";
import { DERMAL_LIMITS } from "#data/library/dermal-limits.ts";
import { ESSENTIAL_OILS, LEMON, TEA_TREE, YLANG_YLANG } from "#data/library/essential-oils.ts";
import type { RecordedIngredient } from "#data/library/record.ts";

const limitOf = new Map(DERMAL_LIMITS.map((limit) => [limit.substance, limit]));

/** Most of an oil that body skin may meet by its richest constituent, stricter law included [% of the product] */
function capPercent({ essentialOil }: RecordedIngredient): number {
  const { constituents, phototoxicMostPercent } = essentialOil!;
  const caps = constituents.flatMap(({ name, high }) => {
    const limit = limitOf.get(name);
    const most = [limit?.mostPercent?.body, limit?.stricter?.mostPercent];
    return most.flatMap((each) => (each === undefined ? [] : [(100 * each) / high]));
  });
  return Math.min(...caps, phototoxicMostPercent?.value ?? 100);
}

describe("essential oils", () => {
  it("are ten, additives with constituents and a flash point, unrated", () => {
    expect(ESSENTIAL_OILS).toHaveLength(10);
    for (const { id, kind, essentialOil } of ESSENTIAL_OILS) {
      expect(kind, id).toBe("additive");
      expect(essentialOil!.constituents.length, id).toBeGreaterThan(1);
      expect(ingredientById(id)!.poreRating, id).toEqual({ rated: false });
    }
  });

  it("hold no more than the whole, and no constituent twice", () => {
    for (const { id, essentialOil } of ESSENTIAL_OILS) {
      const { constituents } = essentialOil!;
      const least = constituents.reduce((sum, { low }) => sum + low, 0);
      expect(least, id).toBeLessThanOrEqual(100);
      expect(new Set(constituents.map(({ name }) => name)).size, id).toBe(constituents.length);
      for (const { low, high } of constituents) {
        expect(low).toBeGreaterThanOrEqual(0);
        expect(high).toBeGreaterThanOrEqual(low);
        expect(high).toBeLessThanOrEqual(100);
      }
    }
  });

  it("are used within what their constituents and the sun allow", () => {
    for (const oil of ESSENTIAL_OILS) {
      expect(oil.usePercent.high, oil.id).toBeLessThanOrEqual(capPercent(oil));
    }
  });

  it.each([
    ["lemon, by the sun", LEMON, 2],
    ["tea tree, by methyl eugenol in the EU: 0.0002 over 0.03 %", TEA_TREE, 0.667],
    ["ylang ylang, by isoeugenol in the EU: 0.02 over 1 %", YLANG_YLANG, 2],
  ])("are capped where they should be: %s", (_, oil, percent) => {
    expect(capPercent(oil)).toBeCloseTo(percent, 3);
  });

  it("go in at least five degrees below their flash point", () => {
    for (const { id, addBelowC, essentialOil } of ESSENTIAL_OILS) {
      expect(addBelowC!.value, id).toBeLessThanOrEqual(essentialOil!.flashC.low - 5);
    }
    expect(ingredientById("eucalyptus-essential-oil")!.addBelowC).toBe(39);
    expect(ingredientById("lavender-essential-oil")!.addBelowC).toBe(45);
  });

  it("are named by their own entry where the law lists the oil, and tea tree has none", () => {
    const without = ESSENTIAL_OILS.filter(({ essentialOil }) => !essentialOil!.annexIIIEntry);
    expect(without.map(({ id }) => id)).toEqual(["tea-tree-essential-oil"]);
  });

  it("have a limit of the sun for cold-pressed lemon and none for sweet orange", () => {
    const withSun = ESSENTIAL_OILS.filter(
      ({ essentialOil: facts }) => facts!.phototoxicMostPercent,
    );
    expect(withSun.map(({ id }) => id)).toEqual(["lemon-essential-oil"]);
  });
});

describe("limits on skin", () => {
  it("name each substance once, and a stricter law is stricter", () => {
    expect(limitOf.size).toBe(DERMAL_LIMITS.length);
    for (const { substance, mostPercent, stricter } of DERMAL_LIMITS) {
      if (stricter) expect(stricter.mostPercent, substance).toBeLessThan(mostPercent!.body);
    }
  });

  it("allow small children never more than grown skin", () => {
    for (const { substance, mostPercent } of DERMAL_LIMITS) {
      if (!mostPercent) continue;
      expect(mostPercent.underThree, substance).toBeLessThanOrEqual(mostPercent.body);
    }
  });

  it("cover every constituent that has a maximum in the trade's standards, or only peroxides", () => {
    const limited = ESSENTIAL_OILS.flatMap(({ essentialOil }) => essentialOil!.constituents)
      .map(({ name }) => limitOf.get(name))
      .filter((limit) => limit !== undefined);
    for (const { mostPercent, peroxides } of limited) {
      expect(mostPercent ?? peroxides).toBeDefined();
    }
    expect(limited.length).toBeGreaterThan(20);
  });
});
