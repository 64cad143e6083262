import { expect, test } from "vitest";
import { gramsOnScale, scaleBatch } from "#core/make/scale.ts";
import {
  SEVEN_BLEND,
  SOFT_BLEND,
  TOCOPHEROL,
  aBlend,
  SHEA_BUTTER,
} from "../../helpers/ingredients.ts";

const JARS = [
  { fillG: 120, quantity: 6 },
  { fillG: 60, quantity: 4 },
];

test("adds the loss allowance and rounds the bulk up to the next step of the scale", () => {
  const made = scaleBatch(SOFT_BLEND, {
    jars: [{ fillG: 113, quantity: 1 }],
    lossShare: 333,
    scaleStepMg: 100,
  });
  // 113 g x 1.0333 = 116.7629 g
  expect(made).toMatchObject({ batch: { fillMg: 113_000, bulkMg: 116_800 } });
});

test("weighs a batch worked out by hand", () => {
  const made = scaleBatch(SEVEN_BLEND, { jars: JARS, lossShare: 500, scaleStepMg: 100 });
  if ("findings" in made) throw new Error("no batch");
  // 960 g x 1.05 = 1008.0 g; dues 483.84, 120.96, 201.6, 100.8, 50.4, 40.32, 10.08 g.
  // Floors leave two steps over; the largest remainders stand at 10.08 and 120.96 g.
  const targets = made.batch.weighings.map(({ targetMg }) => targetMg);
  expect(targets).toEqual([483_800, 121_000, 201_600, 100_800, 50_400, 40_300, 10_100]);
  expect(targets.reduce((sum, each) => sum + each, 0)).toBe(1_008_000);
});

test("weighs ten steps of the scale and refuses nine", () => {
  const blend = aBlend([SHEA_BUTTER, 99], [TOCOPHEROL, 1]);
  const one = (fillG: number) =>
    scaleBatch(blend, { jars: [{ fillG, quantity: 1 }], lossShare: 0, scaleStepMg: 100 });
  expect(one(100)).toHaveProperty("batch");
  expect(one(90)).toEqual({
    findings: [
      expect.objectContaining({
        code: "make.scale.below-resolution",
        subject: "tocopherol",
        measured: "0.9",
        limit: "0.1",
      }),
    ],
  });
});

test.each([
  ["no jars", { jars: [] }],
  ["half a jar", { jars: [{ fillG: 100, quantity: 0.5 }] }],
  ["a jar with nothing in it", { jars: [{ fillG: 0, quantity: 1 }] }],
  ["a fill that is no number", { jars: [{ fillG: NaN, quantity: 1 }] }],
  ["a loss below nothing", { lossShare: -1 }],
  ["a loss above the whole", { lossShare: 10_001 }],
  ["a scale without steps", { scaleStepMg: 0 }],
  ["a batch heavier than numbers can count", { jars: [{ fillG: 1e12, quantity: 1e6 }] }],
])("refuses %s with a named finding", (_, change) => {
  const made = scaleBatch(SOFT_BLEND, { jars: JARS, lossShare: 500, scaleStepMg: 100, ...change });
  expect(made).toHaveProperty("findings.0.code", "make.batch.impossible");
});

test.each([
  [483_800, 100, "483.8"],
  [1_008_000, 100, "1008.0"],
  [40_050, 50, "40.05"],
  [40_050, 10, "40.05"],
  [7_003, 1, "7.003"],
  [12_000, 1000, "12"],
  [12_000, 2000, "12"],
  [12_500, 500, "12.5"],
])("shows %d mg on a scale with steps of %d mg as %s g", (massMg, step, shown) => {
  expect(gramsOnScale(massMg, step)).toBe(shown);
});
