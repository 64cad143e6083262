/**
 * What the shares of a base add up to, in words. The page of a base says it while it is written.
 */
import { WHOLE } from "#core/blend.ts";
import { percentWords } from "./fields.ts";

/** @param sum in hundredths of a percent */
export function sumWords(sum: number): string {
  if (sum === WHOLE) return `${percentWords(sum)}: whole`;
  const off = percentWords(Math.abs(sum - WHOLE));
  return `${percentWords(sum)}: ${off} ${sum > WHOLE ? "too much" : "missing"}`;
}
