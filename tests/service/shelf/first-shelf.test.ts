/**
 * A first shelf: rows from what was typed, or a sentence for each that cannot be read, and nothing twice.
 */
import { describe, expect, it } from "vitest";
import { FIRST_SHELF, type FirstPack, readFirstShelf } from "#service/shelf/first-shelf.ts";
import type { IngredientRow } from "#service/storage/ingredients.ts";

const GBP = { code: "GBP", exponent: 2 };
const read = (
  packs: Readonly<Record<string, FirstPack>>,
  standing: readonly Partial<IngredientRow>[] = [],
) => readFirstShelf(new Map(Object.entries(packs)), standing as IngredientRow[], "shop", GBP);
const faultsOf = (...asked: Parameters<typeof read>) => {
  const found = read(...asked);
  return "faults" in found ? found.faults : [];
};

describe("a first shelf", () => {
  it("names fats of the library, each once", () => {
    expect(new Set(FIRST_SHELF.map(({ id }) => id)).size).toBe(FIRST_SHELF.length);
  });

  it("reads the rows that were filled in, in grams and money, and passes over the others", () => {
    const found = read({
      "shea-butter": { pack: "1 kg", price: "18.50" },
      "cocoa-butter": { pack: " ", price: "" },
      "olive-oil": { pack: "5 l", price: "40" },
    });
    if ("faults" in found) throw new Error(JSON.stringify(found.faults));
    const [shea, olive, ...more] = found.rows;
    expect(more).toEqual([]);
    expect(shea).toMatchObject({ id: "shea-butter", packMg: 1_000_000, packMinor: 1850 });
    expect(olive!.packMinor).toBe(4000);
    // Litres by the density of the oil: a litre of olive oil weighs 0.90 to 0.93 kg.
    expect(olive!.packMg! / 5_000_000).toBeGreaterThan(0.9);
    expect(olive!.packMg! / 5_000_000).toBeLessThan(0.93);
  });

  it("says what is wrong in which row, and then takes none of them", () => {
    const faults = faultsOf({
      "shea-butter": { pack: "1 kg", price: "18.50" },
      "cocoa-butter": { pack: "a tub", price: "9" },
      "jojoba-oil": { pack: "250 g", price: "" },
      "sunflower-oil": { pack: "1 l", price: "0.00" },
    });
    expect(faults.map(({ field }) => field)).toEqual([
      ...["pack-cocoa-butter", "price-jojoba-oil", "price-sunflower-oil"],
    ]);
    for (const { sentence } of faults) expect(sentence).toMatch(/^(Cocoa|Jojoba|Sunflower)/);
    expect(faults[2]!.sentence).toContain("Zero is no price here");
  });

  it("adds nothing that stands on the shelf, or was put away", () => {
    const typed = { "shea-butter": { pack: "1 kg", price: "18" } };
    const twin = { id: "mine", libraryId: "shea-butter", archivedAt: null };
    expect(faultsOf(typed, [twin])[0]!.sentence).toContain("stands on your shelf by now");
    expect(faultsOf(typed, [{ ...twin, archivedAt: 5 }])[0]!.sentence).toContain("put away");
  });

  it("gives a fat another id where its own is taken by another ingredient", () => {
    const other = { id: "shea-butter", libraryId: "mango-butter", archivedAt: null };
    const found = read({ "shea-butter": { pack: "1 kg", price: "18" } }, [other]);
    if ("faults" in found) throw new Error(JSON.stringify(found.faults));
    expect(found.rows[0]!.id).not.toBe("shea-butter");
    expect(found.rows[0]!.libraryId).toBe("shea-butter");
  });

  it("says so when nothing was filled in, and leads to the first free row", () => {
    const [one, two] = FIRST_SHELF;
    const standing = [{ id: one!.id, libraryId: one!.id, archivedAt: null }];
    expect(faultsOf({}, standing)).toEqual([
      { field: `pack-${two!.id}`, sentence: expect.stringContaining("Nothing was filled in") },
    ]);
  });
});
