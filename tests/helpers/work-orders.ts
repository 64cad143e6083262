/** Input of a work order for tests: two orders of the seven-ingredient blend. */
import type { WorkOrderInput } from "#core/make/work-order.ts";
import { SEVEN_BLEND } from "./ingredients.ts";

export function aWorkOrderInput(): WorkOrderInput {
  return {
    batchNumber: "B-261125-01",
    madeOnISO: "2026-11-25",
    makerName: "Fernbank Butters",
    productName: "Winter hand butter",
    baseName: "Shea and cocoa base",
    blend: SEVEN_BLEND,
    orders: [
      { reference: "FB-0311", jarName: "Amber jar", fillG: 120, quantity: 6 },
      { reference: "FB-0318", jarName: "Tin", fillG: 60, quantity: 4 },
    ],
    lossShare: 500,
    scaleStepMg: 100,
    airFraction: 0.35,
    useCelsius: 21,
  };
}
