/**
 * The words of the cautions. Only here, so that they can be checked and
 * translated in one place.
 *
 * General good practice at the bench: it never replaces local codes, the supplier's documents or
 * the maker's own safety assessment, and the work order says so (`DEFER`). Figures in {braces} come
 * from the blend.
 */
import { fill } from "../words/words.ts";

export const CAUTION_WORDS = {
  "bench.water":
    "Keep every drop of water out, steam too: nothing in here stops microbes, and with water " +
    "they grow.",
  "allergen.contains": "Contains {families}.",
  "allergen.separate-utensils":
    "Keep separate utensils for {names}, and wash bench and hands before the next batch: traces " +
    "carry over.",
  "starch.dust":
    "Starch dust burns in a flame and irritates the lungs. Pour low and slowly, mask on, no " +
    "naked flame, wipe up wet.",
  "hot-fat.scald":
    "Fat at {celsius} °C scalds at once and clings. Water bath only, sleeves down, children and " +
    "pets out, never leave it. On a scald: cool running water for 20 minutes, then medical " +
    "advice.",
  "hot-fat.fire":
    "Alarm at 85 °C, stop at 100 °C. If fat burns: heat off, lid on, no water, do not carry it. " +
    "Only a wet chemical extinguisher (class F, in the US class K) is made for it. If the fire " +
    "is large, leave and call the fire service.",
  "additive.neat":
    "{names}, undiluted: gloves on, keep off skin and away from flame, close at once. Keep to " +
    "the supplier's safety data sheet and greatest dose.",
  "cooling.grainy":
    "{percent} % of this fat is of the stearic kind (SOS) that sets in grains when cooled " +
    "slowly from 32 to 24 °C. Chill in one go; if grainy, melt again.",
  "mixer.moving":
    "Unplug the mixer before you change the whisk or scrape. Hair and sleeves tied back, bowl " +
    "on a mat, no more than half full.",
  "floor.slip": "Wipe spilt fat up at once with paper and detergent: floors turn slippery.",
  "rags.self-heat":
    "Cloths wet with {names} can heat up by themselves and burn. Drown them in a lidded tin of " +
    "water, or wash them at once.",
  "storage.cool":
    "Store below 25 °C, dark, dry and closed. Never date a jar later than the earliest date of " +
    "its materials.",
  "post.softens":
    "It may lose its body above {celsius} °C, and a parcel in the sun gets warmer. In warm " +
    "weather send early in the week, upright and insulated, or wait. Promise no texture on " +
    "arrival.",
  "customer.patch-test":
    "Try a coin-sized spot on the inner forearm twice a day for a week. Stop and wash it off if " +
    "it itches, reddens or swells. No reaction proves nothing for certain.",
  "customer.keep-dry":
    "For the skin only. Take it with dry hands or a spatula and keep water out. Stop using it " +
    "if smell, colour or texture changes.",
  "customer.scented":
    "Scented with essential oils: not for children under three. In pregnancy ask a midwife or doctor first.",
  "customer.slip": "It makes feet, tubs and tiles slippery.",
} as const satisfies Record<string, string>;

export type CautionCode = keyof typeof CAUTION_WORDS;

/** What outranks the sheet; stands on every page of it. */
export const DEFER =
  "This sheet is an aid. Local codes, your suppliers' documents and your own safety assessment " +
  "come first; where they say otherwise, follow them.";

/**
 * Fill a caution's words.
 * @throws RangeError when a figure is missing: a caution with a hole in it must not be printed
 */
export function sayCaution(code: CautionCode, figures: Readonly<Record<string, string>>): string {
  return fill(CAUTION_WORDS[code], figures);
}
