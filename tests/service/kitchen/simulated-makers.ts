/**
 * Makers whose kitchen we know because we made it up: a true law, and jars graded by it with an unsteady finger.
 */
import {
  type FirmnessLaw,
  PUBLISHED_LAW,
  USUAL_AIR_FRACTION,
  firmnessClass,
  yieldPa,
} from "#core/judge/firmness.ts";
import { type Chance, chanceFrom } from "#core/order/room/sequence.ts";
import { classBy } from "#service/kitchen/leave-one-out.ts";
import type { Evidence } from "#service/kitchen/learn.ts";

const between = (draw: Chance, least: number, greatest: number) =>
  least + draw() * (greatest - least);

function normal(draw: Chance): number {
  return Math.sqrt(-2 * Math.log(1 - draw())) * Math.cos(2 * Math.PI * draw());
}

/** A kitchen whose butter is 1.5 to 3 times as firm or as soft as published, with exponents of its own. */
export function aKitchen(draw: Chance): FirmnessLaw {
  const factor = between(draw, 1.5, 3) ** (draw() < 0.5 ? 1 : -1);
  const shape = {
    scalePa: 1,
    solidsExponent: between(draw, 1.5, 2.6),
    airExponent: between(draw, 1, 2),
  };
  const usual = (law: FirmnessLaw) => yieldPa(20, USUAL_AIR_FRACTION, law);
  return { ...shape, scalePa: (factor * usual(PUBLISHED_LAW)) / usual(shape) };
}

/** A jar as such makers fill them. */
export function aJar(draw: Chance): Pick<Evidence, "solidFatPercent" | "airFraction"> {
  return { solidFatPercent: between(draw, 6, 50), airFraction: between(draw, 0.1, 0.55) };
}

/** A jar graded by a finger that is off by a third, one standard deviation. */
export function graded(draw: Chance, truth: FirmnessLaw, error = 0.35): Evidence {
  const jar = aJar(draw);
  const felt =
    yieldPa(jar.solidFatPercent, jar.airFraction, truth) * Math.exp(error * normal(draw));
  return { ...jar, reading: { grade: firmnessClass(felt) }, lot: "" };
}

/** A jar measured with a cone. */
export function measured(draw: Chance, truth: FirmnessLaw, error = 0.1, lot = ""): Evidence {
  const jar = aJar(draw);
  const pa = yieldPa(jar.solidFatPercent, jar.airFraction, truth) * Math.exp(error * normal(draw));
  return { ...jar, reading: { yieldPa: pa }, lot };
}

/** Part of a great many new jars that a law calls by another class than the truth. */
export function classError(law: FirmnessLaw, truth: FirmnessLaw): number {
  const draw = chanceFrom(20_261);
  const jars = Array.from({ length: 1000 }, () => ({
    ...aJar(draw),
    reading: { yieldPa: 1 },
    lot: "",
  }));
  return jars.filter((jar) => classBy(jar, law) !== classBy(jar, truth)).length / jars.length;
}
