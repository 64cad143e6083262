/**
 * An explanation as sentences a maker can read.
 */
import type { SolidGroup, SolidsExplained } from "./explain.ts";

export const GROUP_WORDS: Readonly<Record<SolidGroup, string>> = {
  trisaturated: "three saturated chains: melts highest and holds up the warm end",
  SUS: "an unsaturated chain between two saturated ones: the body of cocoa-like butters, hard and brittle",
  SSU: "an unsaturated chain outside two saturated ones: sets slowly",
  SUU: "one saturated chain: soft, solid only in the cool",
  UUU: "no saturated chain: liquid in any room",
  lauric: "short saturated chains that crystallise together: hard in the cool, gone at skin warmth",
  wax: "wax crystals: few, and stiffer than fat solids, so they count for more than their points",
};

/** Points below this are not worth a word [points of solid fat] */
const SAID_FROM = 0.5;

/**
 * One sentence on where the solids come from.
 * @param nameOf turns an ingredient id into the name people use
 */
export function sayWhy(
  { celsius, state, solidFat, groups, ingredients, unexplained }: SolidsExplained,
  nameOf: (id: string) => string = (id) => id,
): string {
  const fat = state === "fresh" ? "fat just whipped" : "settled fat";
  if (solidFat < SAID_FROM) return `At ${celsius} °C next to nothing of the ${fat} is solid.`;
  const from = ingredients
    .filter(({ points }) => points >= SAID_FROM)
    .map(({ ingredient, points }) => `${nameOf(ingredient)} ${points.toFixed(1)}`);
  const as = groups
    .filter(({ points }) => points >= SAID_FROM)
    .map(({ group, points }) => `${group} ${points.toFixed(1)}`);
  const solid = `At ${celsius} °C ${solidFat.toFixed(1)} % of the ${fat} is solid.`;
  if (unexplained > 0) return `${solid} It was measured; the composition does not say what it is.`;
  return `${solid} By ingredient: ${from.join(", ")}. By kind of fat: ${as.join(", ")}.`;
}
