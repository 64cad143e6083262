/**
 * Cone penetration -> yield value, for makers who measure instead of pressing with a finger.
 *
 * C = K W / p^1.6 with C the yield value [gf/cm2], W the weight of the cone [g] and p its depth after 5 seconds
 * [0.1 mm]; found to hold for plain cones of 15 to 90 degrees and for 45 to 8300 gf/cm2 (Haighton 1959, JAOCS 36:345,
 * abstract read). K is 5840 for 40 degrees (from memory). Other angles by the radius of the cone at a depth, which
 * goes by tan(angle/2): K = 5840 (tan 20 / tan(angle/2))^1.6. Own choice; the table from memory has 9670 at 30
 * degrees and 2815 at 60, and this gives 9532 and 2792. The stepped grease cone of ASTM D217 is no plain cone and not
 * covered.
 */
import { PA_PER_GF_CM2 } from "./firmness.ts";

export interface ConeReading {
  /** Weight of all that sinks: cone, rod and what lies on them [g] */
  readonly weightG: number;
  /** Whole angle at the tip [degrees] */
  readonly angleDegrees: number;
  /** Depth after 5 seconds [0.1 mm], as ISO 2137 and ASTM D217 count it */
  readonly depthTenthMm: number;
}

export const CONE_ANGLE_LEAST_DEGREES = 15;
export const CONE_ANGLE_GREATEST_DEGREES = 90;

/** Yield values the cone was tried on [Pa]. */
export const CONE_YIELD_LEAST_PA = 45 * PA_PER_GF_CM2;
export const CONE_YIELD_GREATEST_PA = 8300 * PA_PER_GF_CM2;

const K_AT_40_DEGREES = 5840;
const DEPTH_EXPONENT = 1.6;

/**
 * Yield value by a cone.
 * @param reading weight and depth above 0, angle 15 to 90 degrees
 * @returns yield value [Pa]; to be taken for a measurement only between the values the cone was tried on
 */
export function yieldByConePa({ weightG, angleDegrees, depthTenthMm }: ConeReading): number {
  const k = K_AT_40_DEGREES * (halfTangent(40) / halfTangent(angleDegrees)) ** DEPTH_EXPONENT;
  return ((k * weightG) / depthTenthMm ** DEPTH_EXPONENT) * PA_PER_GF_CM2;
}

function halfTangent(degrees: number): number {
  return Math.tan((degrees * Math.PI) / 360);
}
