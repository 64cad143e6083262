/**
 * Sentences that are put together from a judgement or a scene.
 */
import { sayFinding } from "#core/finding.ts";
import { FIRMNESS_CLASSES, type FirmnessClass } from "#core/judge/firmness.ts";
import { SKIN_C } from "#core/judge/oil-phase.ts";
import { SUMMER_PARCEL_C } from "#core/judge/places.ts";
import type { Judgement } from "#core/judge/verdict.ts";
import type { Language } from "./language.ts";
import { type Scene, nameOf } from "./scene.ts";
import type { Say } from "./words.ts";

export interface KnownPlace {
  readonly name: string;
  readonly celsius: number;
  /**
   * On which side of its line the name reads, so that skin and parcel do not run into each other.
   */
  readonly anchor: "start" | "middle" | "end";
  readonly feel: Readonly<Record<FirmnessClass, Say>>;
}

/** Places whose warmth a person knows; temperatures as in the core (`judge/places.ts`). */
export function knownPlaces(useCelsius: number, { words }: Language): KnownPlace[] {
  const { place, handles, onSkin, inParcel } = words;
  const isIndoors = useCelsius >= 18 && useCelsius <= 24;
  const home = isIndoors ? place.room() : place.home();
  return [
    { name: place.larder(), celsius: 10, anchor: "middle", feel: handles },
    { name: home, celsius: useCelsius, anchor: "middle", feel: handles },
    { name: place.skin(), celsius: SKIN_C, anchor: "end", feel: onSkin },
    { name: place.parcel(), celsius: SUMMER_PARCEL_C, anchor: "start", feel: inParcel },
  ];
}

/**
 * "Sets soft and scoopable at 21 °C; holds its body to about 30 °C", with a line break where one
 * would breathe.
 */
export function sayFirmness(judgement: Judgement | undefined, language: Language): string {
  const { firmness: says } = language.words;
  const firmness = judgement?.firmness;
  if (!firmness) return says.unknown();
  const { lowest, highest, celsius } = firmness;
  const classes = language.words.classes;
  const sets = (lowest === highest ? says[lowest] : says.between)({
    ...{ from: classes[lowest](), to: classes[highest]() },
    warmth: language.degrees(celsius),
  });
  const holds = judgement.softensAboveCelsius;
  if (holds === undefined || highest === "fluid") return sets;
  return says.holds({ sets, warmth: language.degrees(holds) });
}

/** The same in a few words, for a base card or the strip. */
export function sayFirmnessShort(judgement: Judgement | undefined, language: Language): string {
  const { firmness } = language.words;
  const classes = sayClasses(judgement, language);
  if (classes === "") return firmness.unknownShort();
  const holds = judgement?.softensAboveCelsius;
  return holds === undefined
    ? classes
    : firmness.holdsShort({ classes, warmth: language.degrees(holds) });
}

/** "soft to firm": the classes the settled band reaches; empty when not known. */
export function sayClasses(judgement: Judgement | undefined, { words }: Language): string {
  if (!judgement?.firmness) return "";
  const { lowest, highest } = judgement.firmness;
  const [from, to] = [words.classes[lowest](), words.classes[highest]()];
  return lowest === highest ? from : words.classes.between({ from, to });
}

/** "about 30 °C"; empty when nothing is to hold. */
export function sayHolds(judgement: Judgement | undefined, language: Language): string {
  const holds = judgement?.softensAboveCelsius;
  return holds === undefined
    ? ""
    : language.words.firmness.about({ warmth: language.degrees(holds) });
}

/** How the jar changes between the day it is whipped and a week later. */
export function saySettling(judgement: Judgement | undefined, { words }: Language): string {
  const firmness = judgement?.firmness;
  if (!firmness) return "";
  const { fresh, settled } = firmness;
  if (rank(settled) <= rank(fresh)) return words.firmness.stays();
  const now = fresh === "fluid" ? words.firmness.verySoft() : words.classes[fresh]();
  return words.firmness.firmsUp({ fresh: now });
}

function rank(firmness: FirmnessClass): number {
  return FIRMNESS_CLASSES.indexOf(firmness);
}

/** Why a blend cannot be ordered, weightiest first; empty when it can. */
export function sayReasons({ reasons, state }: Scene, language: Language): string[] {
  return reasons.map((found) => sayFinding(found, (id) => nameOf(state.offer, id), language));
}

/** Words as they begin a sentence. */
export function capital(words: string): string {
  return words.charAt(0).toUpperCase() + words.slice(1);
}
