import { expect, test } from "vitest";
import { PUBLISHED_LAW } from "#core/judge/firmness.ts";
import { judgeBlend } from "#core/judge/verdict.ts";
import { makeWorkOrder, type WorkOrder, type WorkOrderInput } from "#core/make/work-order.ts";
import {
  BEESWAX,
  SEVEN_BLEND,
  SHEA_BUTTER,
  SOFT_BLEND,
  TWELVE_BLEND,
  aBlend,
} from "../../helpers/ingredients.ts";
import { aWorkOrderInput } from "../../helpers/work-orders.ts";

function written(change: Partial<WorkOrderInput> = {}): WorkOrder {
  const made = makeWorkOrder({ ...aWorkOrderInput(), ...change });
  if ("findings" in made) throw new Error(made.findings[0]!.code);
  return made.workOrder;
}

test("carries the batch, the orders served and the theoretical yield", () => {
  const sheet = written();
  expect(sheet).toMatchObject({
    batchNumber: "B-261125-01",
    madeOnISO: "2026-11-25",
    productName: "Winter hand butter",
    bulkG: "1008.0",
    yieldG: "960",
    scaleStepG: "0.1",
    jarCount: 10,
  });
  // 0.91 g/ml x 0.65 = 0.5915 g/ml: 120 g take 202.9 ml, 60 g take 101.4 ml.
  expect(sheet.jars.map(({ reference, volumeMl }) => [reference, volumeMl])).toEqual([
    ["FB-0311", 203],
    ["FB-0318", 102],
  ]);
});

test("lists every ingredient once, numbered in the order weighed, with sums that agree", () => {
  for (const blend of [SEVEN_BLEND, TWELVE_BLEND]) {
    const { weighList, bulkG } = written({ blend });
    const lines = weighList.flatMap((group) => group.lines);
    expect(lines.map(({ line }) => line)).toEqual(blend.parts.map((_, at) => at + 1));
    expect(new Set(lines.map(({ name }) => name)).size).toBe(blend.parts.length);
    const sumMg = lines.reduce((sum, { targetMg }) => sum + targetMg, 0);
    expect((sumMg / 1000).toFixed(1)).toBe(bulkG);
    expect(lines.reduce((sum, { share }) => sum + share, 0)).toBe(10_000);
  }
});

test("promises what the judge finds, no more", () => {
  const { promise } = written({ blend: SOFT_BLEND });
  const judged = judgeBlend(SOFT_BLEND, { celsius: [], useCelsius: 21, airFraction: 0.35 });
  expect(promise).toMatchObject({ ...judged.firmness, afterDays: 7 });
  expect(promise.softensAboveC).toBe(judged.softensAboveCelsius);
  expect(promise.softensAboveLeastC).toBe(judged.softensAboveLeastCelsius);
});

test("promises by the kitchen's own law where there is one", () => {
  const law = { ...PUBLISHED_LAW, scalePa: 2 * PUBLISHED_LAW.scalePa };
  const usual = written({ blend: SOFT_BLEND }).promise;
  const own = written({ blend: SOFT_BLEND, law }).promise;
  expect(own.yieldPa).toBeCloseTo(2 * usual.yieldPa, 6);
});

test("goes through the bench in order and leaves out steps that have nothing in them", () => {
  const ids = (sheet: WorkOrder) => sheet.steps.map(({ id }) => id);
  expect(ids(written())).toEqual([
    ...["weigh", "melt", "oils", "cool-down", "chill", "whip", "fill", "clean", "rest", "judge"],
  ]);
  expect(ids(written({ blend: SOFT_BLEND }))).not.toContain("cool-down");
  expect(ids(written({ blend: aBlend([SHEA_BUTTER, 100]) }))).not.toContain("oils");
});

test("puts every caution in its place and loses none", () => {
  const sheet = written();
  const placed = [
    ...sheet.steps.flatMap(({ cautions }) => cautions),
    ...Object.values(sheet.cautions).flat(),
  ];
  expect(placed.map(({ code }) => code).sort()).toEqual([
    "additive.neat",
    "allergen.contains",
    "allergen.separate-utensils",
    "bench.water",
    "cooling.grainy",
    "floor.slip",
    "hot-fat.fire",
    "hot-fat.scald",
    "keep-dry",
    "mixer.moving",
    "patch-test",
    "post.softens",
    "rags.self-heat",
    "slip",
    "starch.dust",
    "storage.cool",
  ]);
  const melt = sheet.steps.find(({ id }) => id === "melt")!;
  expect(melt.cautions.map(({ code }) => code)).toEqual(["hot-fat.scald", "hot-fat.fire"]);
});

test("names every ingredient in the step that uses it", () => {
  const named = written().steps.flatMap((step) =>
    step.sentences.flatMap(({ figures }) => figures.ingredients ?? []),
  );
  const ids = SEVEN_BLEND.parts.map(({ ingredient }) => ingredient.id);
  expect([...named].sort()).toEqual([...ids].sort());
});

test("holds no sentence of any language, only codes with their figures", () => {
  const { steps, cautions } = written();
  const all = [
    ...steps.flatMap((step) => [...step.sentences, ...step.cautions]),
    ...Object.values(cautions).flat(),
  ];
  for (const each of all) {
    expect(each.code).toMatch(/^[a-z.-]+$/);
    expect(each.words).toBeUndefined();
  }
});

test.each([
  [
    "an ingredient nobody has measured",
    { blend: aBlend([SHEA_BUTTER, 95], [BEESWAX, 5]) },
    "judge.",
  ],
  ["a scale too coarse for the additive", { scaleStepMg: 2000 }, "make.scale.below-resolution"],
  ["a day that is none", { madeOnISO: "2026-02-30" }, "make.batch.impossible"],
  ["a day written another way", { madeOnISO: "25/11/2026" }, "make.batch.impossible"],
  ["no orders", { orders: [] }, "make.batch.impossible"],
  ["too much air", { airFraction: 0.95 }, "judge.air.out-of-range"],
] as const)("writes no sheet for %s, and says why", (_, change, code) => {
  const made = makeWorkOrder({ ...aWorkOrderInput(), ...change });
  if ("workOrder" in made) throw new Error("a sheet was written");
  expect(made.findings.map((each) => each.code).join(" ")).toContain(code);
});
