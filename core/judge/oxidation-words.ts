/**
 * What to do about a place in the oxidation order, one text each. No text names a time: an order is no shelf life.
 *
 * Tocopherol slows oxidation and, in oil that had already begun to turn, sped it up (almond oil at 50 C, Auezova
 * 2012): hence "fresh oil" and "more is not better". It preserves against no microbe (from memory).
 */
import type { Oxidation } from "./oxidation.ts";

export const OXIDATION_WORDS: Readonly<Record<Oxidation["order"], string>> = {
  steady:
    "By their fatty acids these fats take up oxygen slowly. An antioxidant is a matter of habit here. " +
    "Date the jar by its earliest raw material all the same.",
  ordinary:
    "By their fatty acids these fats take up oxygen at an ordinary pace. A little tocopherol or rosemary " +
    "extract in fresh oil slows it; more is not better. Date the jar by its earliest raw material.",
  quick:
    "By their fatty acids these fats take up oxygen quickly. Use the freshest lots, stir tocopherol or " +
    "rosemary extract into the fresh oil first, keep it cool and dark, and make small batches. " +
    "Date the jar by its earliest raw material.",
  "cannot-judge":
    "The rule for fatty acids does not hold for every fat in this blend, so its place in the order is not known. " +
    "Date the jar by its earliest raw material.",
};
