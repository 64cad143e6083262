/**
 * The form a test jar is written down on: fields in, a jar or sentences out. What was typed is never lost.
 */
import type { Product } from "#core/compose/product.ts";
import { FIRMNESS_CLASSES, PA_PER_GF_CM2 } from "#core/judge/firmness.ts";
import {
  CONE_YIELD_GREATEST_PA,
  CONE_YIELD_LEAST_PA,
  yieldByConePa,
} from "#core/judge/penetration.ts";
import type { NewTestJar } from "../storage/test-jars.ts";
import { airByWeight } from "./air.ts";
import { lengthFault } from "../typed/length.ts";
import { settledSolids } from "./evidence.ts";
import { readBlend } from "./jar-blend.ts";
import { BY_CONE, type JarFields, type NumberField, readNumber } from "./jar-fields.ts";

export type Faults = readonly string[];
export type JarOnForm = Omit<NewTestJar, "id" | "shopId" | "recordedAt" | "batchId">;

const WORDS_LONGEST = 200;

/**
 * Read a form.
 * @param products of the shop, for a jar made from one of its bases
 * @returns the jar; or a sentence for everything that stands against it
 */
export function readJarForm(
  fields: JarFields,
  products: readonly Product[],
): { readonly jar: JarOnForm } | { readonly faults: Faults } {
  const faults: string[] = [];
  const number = (name: NumberField) => readNumber(fields, name, faults);
  const made = readBlend(fields, products);
  if ("faults" in made) faults.push(...made.faults);
  const netG = number("netG");
  const jarMl = number("jarMl");
  const daysRested = number("daysRested");
  const celsius = number("celsius");
  const reading = readReading(fields, number, faults);
  for (const name of ["lot", "note"] as const) {
    const long = lengthFault(`the ${name}`, fields[name], WORDS_LONGEST);
    if (long) faults.push(long);
  }
  if (faults.length > 0 || "faults" in made || !reading) return { faults };
  const solids = settledSolids(made.blend, celsius);
  if (!solids) {
    return {
      faults: ["This blend cannot be judged: the library knows too little of a part of it."],
    };
  }
  const air = airByWeight(made.blend, celsius, solids.percent, netG, jarMl);
  if ("impossible" in air) return { faults: [air.impossible] };
  const parts = made.blend.parts.map(({ ingredient, share }) => ({
    ingredient: ingredient.id,
    share,
  }));
  return {
    jar: {
      title: made.title,
      parts: JSON.stringify(parts),
      netMg: Math.round(netG * 1000),
      jarUl: Math.round(jarMl * 1000),
      daysRested,
      celsius,
      ...reading,
      lot: fields.lot,
      note: fields.note,
    },
  };
}

type ReadingColumns = Pick<
  NewTestJar,
  "grade" | "coneDepthTenthMm" | "coneWeightG" | "coneAngleDegrees"
>;

function readReading(
  fields: JarFields,
  number: (name: NumberField) => number,
  faults: string[],
): ReadingColumns | undefined {
  const grade = FIRMNESS_CLASSES.find((each) => each === fields.felt);
  if (grade) return { grade, coneDepthTenthMm: null, coneWeightG: null, coneAngleDegrees: null };
  if (fields.felt !== BY_CONE) {
    faults.push("Say how the jar felt: fluid, soft, firm or hard, or measured with a cone.");
    return undefined;
  }
  const before = faults.length;
  const [depthTenthMm, weightG, angleDegrees] = [
    number("coneDepth"),
    number("coneWeight"),
    number("coneAngle"),
  ];
  if (faults.length > before) return undefined;
  const pa = yieldByConePa({ depthTenthMm, weightG, angleDegrees });
  if (pa < CONE_YIELD_LEAST_PA || pa > CONE_YIELD_GREATEST_PA) {
    const gfPerCm2 = Math.round(pa / PA_PER_GF_CM2);
    faults.push(
      `This depth stands for ${gfPerCm2} gf/cm², and the cone rule holds from 45 to 8300. ` +
        "Check depth and weight, or say how the jar felt instead.",
    );
    return undefined;
  }
  return {
    grade: null,
    coneDepthTenthMm: depthTenthMm,
    coneWeightG: weightG,
    coneAngleDegrees: angleDegrees,
  };
}
