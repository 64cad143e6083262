import { expect, test } from "vitest";
import { meltOf } from "#core/judge/melt.ts";
import { slipMeltingC } from "#core/judge/softening.ts";
import { inOrderWeighed, stageOf } from "#core/make/stages.ts";
import {
  COCOA_BUTTER,
  COCONUT_OIL,
  MANGO_BUTTER,
  ROSEHIP_OIL,
  SHEA_BUTTER,
  SUNFLOWER_OIL,
  TAPIOCA_STARCH,
  TOCOPHEROL,
  TWELVE_BLEND,
} from "../../helpers/ingredients.ts";

test.each([
  [COCOA_BUTTER, "pot"],
  [COCONUT_OIL, "pot"],
  [SUNFLOWER_OIL, "oils"],
  [ROSEHIP_OIL, "cool-down"],
  [TAPIOCA_STARCH, "cool-down"],
  [TOCOPHEROL, "cool-down"],
] as const)("puts $id in at the right stage", (ingredient, stage) => {
  expect(stageOf(ingredient)).toBe(stage);
});

test("weighs butters from the highest melting point down, then oils, then the cool-down", () => {
  const slips = [SHEA_BUTTER, MANGO_BUTTER, COCOA_BUTTER, COCONUT_OIL].map((ingredient) =>
    slipMeltingC(meltOf({ parts: [{ ingredient, share: 10_000 }] })!)!,
  );
  expect(slips).toEqual([...slips].sort((one, other) => other - one));
  expect(inOrderWeighed(TWELVE_BLEND.parts).map(({ ingredient }) => ingredient.id)).toEqual([
    "shea-butter",
    "mango-butter",
    "cocoa-butter",
    "coconut-oil",
    "sweet-almond-oil",
    "high-oleic-sunflower-oil",
    "jojoba-oil",
    "sunflower-oil",
    "rosehip-oil",
    "tapioca-starch",
    "hemp-seed-oil",
    "tocopherol",
  ]);
});

test("leaves the parts it was given as they were", () => {
  const parts = [
    { ingredient: SUNFLOWER_OIL, share: 5000 },
    { ingredient: SHEA_BUTTER, share: 5000 },
  ];
  inOrderWeighed(parts);
  expect(parts[0]!.ingredient).toBe(SUNFLOWER_OIL);
});
