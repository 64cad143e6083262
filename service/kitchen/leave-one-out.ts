/**
 * How often a law calls a jar by another class than the maker did: the published law, and the kitchen's own learned
 * from all the other jars, so that no jar vouches for itself.
 */
import {
  type FirmnessClass,
  type FirmnessLaw,
  PUBLISHED_LAW,
  firmnessClass,
  yieldPa,
} from "#core/judge/firmness.ts";
import { type Evidence, learnLaw } from "./learn.ts";

export interface ClassErrors {
  readonly jars: number;
  /** Jars that the published law calls wrongly. */
  readonly before: number;
  /** Jars that the law learned from the others calls wrongly. */
  readonly after: number;
}

/** Count the wrong classes, before learning and after. */
export function leaveOneOut(jars: readonly Evidence[]): ClassErrors {
  const wrongBy = (jar: Evidence, law: FirmnessLaw) => classBy(jar, law) !== toldClass(jar);
  return {
    jars: jars.length,
    before: jars.filter((jar) => wrongBy(jar, PUBLISHED_LAW)).length,
    after: jars.filter((jar, at) => wrongBy(jar, learnLaw(jars.toSpliced(at, 1)).law)).length,
  };
}

/** Class a law gives a jar. */
export function classBy({ solidFatPercent, airFraction }: Evidence, law: FirmnessLaw) {
  return firmnessClass(yieldPa(solidFatPercent, airFraction, law));
}

/** Class the maker gave it, by finger or by cone. */
export function toldClass({ reading }: Evidence): FirmnessClass {
  return "grade" in reading ? reading.grade : firmnessClass(reading.yieldPa);
}
