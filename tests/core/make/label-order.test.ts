import { expect, test } from "vitest";
import { labelOrder } from "#core/make/label-order.ts";
import { ingredientById } from "#data/library.ts";
import {
  COCOA_BUTTER,
  HIGH_OLEIC_SUNFLOWER_OIL,
  JOJOBA_OIL,
  SEVEN_BLEND,
  SHEA_BUTTER,
  SUNFLOWER_OIL,
  TOCOPHEROL,
  aBlend,
} from "../../helpers/ingredients.ts";

test("lists INCI names from the greatest mass down", () => {
  expect(labelOrder(SEVEN_BLEND).text).toBe(
    "Butyrospermum Parkii (Shea) Butter, Prunus Amygdalus Dulcis (Sweet Almond) Oil, Theobroma " +
      "Cacao (Cocoa) Seed Butter, Simmondsia Chinensis (Jojoba) Seed Oil, Rosa Canina Seed Oil, " +
      "Tapioca Starch, Tocopherol",
  );
});

test("counts two ingredients with one INCI name as one, which may move it up", () => {
  const blend = aBlend(
    [SHEA_BUTTER, 40],
    [COCOA_BUTTER, 21],
    [SUNFLOWER_OIL, 20],
    [HIGH_OLEIC_SUNFLOWER_OIL, 19],
  );
  const { entries } = labelOrder(blend);
  expect(entries.map(({ inci, share }) => [inci.split(" ")[0], share])).toEqual([
    ["Butyrospermum", 4000],
    ["Helianthus", 3900],
    ["Theobroma", 2100],
  ]);
});

test("merges names that differ only in case and spaces", () => {
  const shouted = {
    ...SUNFLOWER_OIL,
    id: "other",
    inci: " HELIANTHUS ANNUUS  (SUNFLOWER) SEED OIL",
  };
  const { entries } = labelOrder(aBlend([SUNFLOWER_OIL, 50], [shouted, 50]));
  expect(entries).toEqual([
    { inci: "Helianthus Annuus (Sunflower) Seed Oil", share: 10_000, orderFree: false },
  ]);
});

test("settles ties by name", () => {
  const { entries } = labelOrder(aBlend([SHEA_BUTTER, 50], [COCOA_BUTTER, 25], [JOJOBA_OIL, 25]));
  expect(entries.map(({ inci }) => inci[0])).toEqual(["B", "S", "T"]);
});

test("marks 1 % as free in its order and 1.01 % as not, and keeps both by mass", () => {
  const at = (percent: number) =>
    labelOrder(aBlend([SHEA_BUTTER, 100 - percent], [TOCOPHEROL, percent])).entries[1];
  expect(at(1)).toMatchObject({ inci: "Tocopherol", orderFree: true });
  expect(at(1.01)).toMatchObject({ inci: "Tocopherol", orderFree: false });
});

test("says which ingredient brings which allergen family, and nothing when none does", () => {
  expect(labelOrder(SEVEN_BLEND).contains).toEqual([
    "possibly soya: Vitamin E (mixed tocopherols)",
    "tree nuts: Sweet almond oil",
  ]);
  const odd = { ...SHEA_BUTTER, allergenFamilies: ["blue-lupin"] };
  expect(labelOrder(aBlend([odd, 100])).contains).toEqual(["blue lupin: Shea butter"]);
  expect(labelOrder(aBlend([SHEA_BUTTER, 100])).contains).toEqual([]);
});

test("names fragrance allergens above the threshold at the end, and an oil that is listed by its INCI name once", () => {
  const lemon = ingredientById("lemon-essential-oil")!;
  const { allergens, text, untold } = labelOrder(aBlend([SHEA_BUTTER, 99], [lemon, 1]));
  expect(text).toBe(
    "Butyrospermum Parkii (Shea) Butter, Citrus Limon Peel Oil, Limonene, Pinene, Citral, Geranyl Acetate, " +
      "Terpineol, Terpinolene, Beta-Caryophyllene, Linalool, Geraniol",
  );
  expect(allergens[0]).toEqual({ name: "Limonene", lowPercent: 0.56, highPercent: 0.78 });
  expect(untold).toEqual([]);
});

test("names a listed group beside an oil whose INCI name is another", () => {
  const lavender = ingredientById("lavender-essential-oil")!;
  const { text } = labelOrder(aBlend([SHEA_BUTTER, 99.9], [lavender, 0.1]));
  expect(text).toContain("Lavandula Angustifolia Oil, Lavandula Oil/Extract, Linalyl Acetate");
});
