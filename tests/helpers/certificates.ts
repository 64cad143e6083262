/**
 * Certificates of analysis as lots keep them.
 */
import { SHEA_BUTTER } from "#data/library/shea-fats.ts";

/** Shea of the library with another share of stearic acid, and oleic acid in its place [% of fatty acids] */
export function sheaWith({ stearic }: { readonly stearic: number }): string {
  const { chosen } = SHEA_BUTTER.composition;
  if (chosen.kind !== "fatty-acids") throw new Error("the library knows shea by other figures");
  const { percent } = chosen;
  const { "18:0": its = 0, "18:1": oleic = 0 } = percent;
  const round = (share: number) => Math.round(share * 100) / 100;
  const changed = { "18:0": stearic, "18:1": round(oleic + its - stearic) };
  return JSON.stringify({ fattyAcids: { ...percent, ...changed } });
}
