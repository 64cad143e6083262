import { expect, test } from "vitest";
import type { Blend } from "#core/blend.ts";
import { grainySpeciesPercent } from "#core/judge/grain.ts";
import { cautionsFor, dryingAcidsPercent } from "#core/make/cautions.ts";
import { planBatch } from "#core/make/plan.ts";
import { meltOf } from "#core/judge/melt.ts";
import { ingredientById } from "#data/library.ts";
import {
  COCOA_BUTTER,
  COCONUT_OIL,
  HEMP_SEED_OIL,
  JOJOBA_OIL,
  ROSEHIP_OIL,
  SEVEN_BLEND,
  SHEA_BUTTER,
  SOFT_BLEND,
  SUNFLOWER_OIL,
  SWEET_ALMOND_OIL,
  TAPIOCA_STARCH,
  TOCOPHEROL,
  aBlend,
} from "../../helpers/ingredients.ts";

const LAVENDER = ingredientById("lavender-essential-oil")!;

function cautions(blend: Blend, softensAboveLeastC: number | undefined = 28) {
  const melt = meltOf(blend)!;
  const made = planBatch(blend, melt, 0.35);
  if ("findings" in made) throw new Error(made.findings[0]!.code);
  return cautionsFor(blend, melt, made.plan, softensAboveLeastC);
}

function has(blend: Blend, code: string) {
  return cautions(blend).find((each) => each.code === code);
}

const PLAIN = aBlend([SHEA_BUTTER, 70], [SUNFLOWER_OIL, 30]);

test.each([
  ["bench.water", "weigh"],
  ["hot-fat.scald", "melt"],
  ["hot-fat.fire", "melt"],
  ["mixer.moving", "whip"],
  ["floor.slip", "clean"],
  ["storage.cool", "storage"],
  ["patch-test", "customer"],
  ["keep-dry", "customer"],
  ["slip", "customer"],
])("gives %s with every batch, at %s", (code, at) => {
  expect(has(PLAIN, code)).toMatchObject({ at });
});

test.each([
  ["nuts", "allergen.separate-utensils", [SWEET_ALMOND_OIL, 20]],
  ["an allergen family", "allergen.contains", [SWEET_ALMOND_OIL, 20]],
  ["starch", "starch.dust", [TAPIOCA_STARCH, 5]],
  ["an additive", "additive.neat", [TOCOPHEROL, 1]],
  ["rosehip", "rags.self-heat", [ROSEHIP_OIL, 5]],
  ["hemp", "rags.self-heat", [HEMP_SEED_OIL, 5]],
  ["scent", "scented", [LAVENDER, 0.5]],
] as const)("warns because of %s (%s), and not without", (_, code, [ingredient, percent]) => {
  const blend = aBlend([SHEA_BUTTER, 70 - percent], [SUNFLOWER_OIL, 30], [ingredient, percent]);
  expect(has(blend, code)).toBeDefined();
  expect(has(PLAIN, code)).toBeUndefined();
});

test("names what it warns of", () => {
  const figuresOf = (code: string, blend = SEVEN_BLEND) => has(blend, code)?.figures;
  expect(figuresOf("allergen.separate-utensils")).toEqual({ ingredients: [SWEET_ALMOND_OIL.id] });
  expect(figuresOf("allergen.contains")).toEqual({
    families: [
      { family: "soy-possible", ingredients: [TOCOPHEROL.id] },
      { family: "tree-nut", ingredients: [SWEET_ALMOND_OIL.id] },
    ],
  });
  expect(figuresOf("rags.self-heat")).toEqual({ ingredients: [ROSEHIP_OIL.id] });
  expect(figuresOf("hot-fat.scald", PLAIN)).toEqual({ celsius: 78 });
});

test("tells drying oils from the others by acids with three or more double bonds", () => {
  expect(dryingAcidsPercent(ROSEHIP_OIL.composition)).toBeCloseTo(32.2, 0);
  expect(dryingAcidsPercent(HEMP_SEED_OIL.composition)).toBeCloseTo(19.3, 0);
  expect(dryingAcidsPercent(SUNFLOWER_OIL.composition)).toBe(0);
  expect(dryingAcidsPercent(JOJOBA_OIL.composition)).toBe(0);
  const measured = {
    kind: "triacylglycerols",
    percent: { LnLnLn: 50, OOLn: 30, OOO: 20 },
  } as const;
  expect(dryingAcidsPercent(measured)).toBeCloseTo(60, 10);
});

test("warns of grains where SOS is a twentieth of the fat or more", () => {
  const coconut = aBlend([COCONUT_OIL, 80], [SUNFLOWER_OIL, 20]);
  expect(has(SOFT_BLEND, "cooling.grainy")).toMatchObject({ at: "chill" });
  expect(has(coconut, "cooling.grainy")).toBeUndefined();
  // Measured SOS and SOA of this cocoa butter: 22.7 + 0.9 %.
  expect(grainySpeciesPercent(meltOf(aBlend([COCOA_BUTTER, 100]))!)).toBeCloseTo(23.6, 1);
});

test("warns of summer post below 40 °C, rounding the worse figure down", () => {
  const post = (edge: number | undefined) =>
    cautions(PLAIN, edge).find(({ code }) => code === "post.softens");
  expect(post(28.9)?.figures).toEqual({ celsius: 28 });
  expect(post(39.9)).toBeDefined();
  expect(post(40)).toBeUndefined();
});

test("warns of post at the coldest temperature judged when there is no body even there", () => {
  const melt = meltOf(PLAIN)!;
  const made = planBatch(PLAIN, melt, 0.35);
  if ("findings" in made) throw new Error("no plan");
  const found = cautionsFor(PLAIN, melt, made.plan, undefined);
  expect(found.find(({ code }) => code === "post.softens")?.figures).toEqual({ celsius: -10 });
});
