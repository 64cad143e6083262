/**
 * Amounts as a maker writes them: "5 lb", "1,5 kg", "500 ml at 20 °C"; kept as whole milligrams.
 *
 * The avoirdupois pound is 453.59237 g exactly (international yard and pound agreement, 1959), the ounce a sixteenth
 * of it; the US fluid ounce is 29.5735295625 ml (NIST Handbook 44, appendix C). A volume weighs what the fat's density
 * at a stated temperature says.
 */
import { numberFormat } from "../documents/formats.ts";
import { WHOLE } from "#core/blend.ts";
import type { Ingredient } from "#core/ingredient.ts";
import { characteristicValues } from "#core/judge/characteristic-values.ts";
import { fatDensityGPerMl } from "#core/judge/density.ts";
import { meltOf } from "#core/judge/melt.ts";
import { solidFatPercent } from "#core/judge/solid-fat.ts";
import { readDecimal } from "../typed/read-decimal.ts";
import { quoted } from "../typed/fault.ts";

const MG_OF = { g: 1000, kg: 1e6, oz: 28_349.523125, lb: 453_592.37 } as const;
const ML_OF = { ml: 1, l: 1000, "fl oz": 29.5735295625 } as const;

/** Units of the forms, weights first. */
export const UNITS = ["g", "kg", "oz", "lb", "ml", "l", "fl oz"] as const;
export type Unit = (typeof UNITS)[number];

const UNIT_OF: Readonly<Record<string, Unit>> = {
  ...{ g: "g", gr: "g", gram: "g", grams: "g", gramme: "g", grammes: "g" },
  ...{ kg: "kg", kilo: "kg", kilos: "kg", kilogram: "kg", kilograms: "kg" },
  ...{ oz: "oz", ounce: "oz", ounces: "oz", lb: "lb", lbs: "lb", pound: "lb", pounds: "lb" },
  ...{ ml: "ml", millilitre: "ml", millilitres: "ml", l: "l", litre: "l", litres: "l", liter: "l" },
  ...{ "fl oz": "fl oz", "us fl oz": "fl oz", floz: "fl oz", "fl. oz": "fl oz", liters: "l" },
};

/** Temperature a volume is taken at when none is said [C] */
export const USUAL_CELSIUS = 20;
const COLDEST_VOLUME_C = 10;
const WARMEST_VOLUME_C = 60;
/** Ten tonnes: more than a small maker's shelf holds [mg] */
const GREATEST_MG = 10_000_000_000;

const AMOUNT =
  /^([\d.,’' ]+?)\s*([a-z. ]+?)(?:\s*(?:at|@)\s*(-?\d{1,3}(?:[.,]\d)?)\s*(?:°?\s*c)?)?$/i;

export type ReadAmount = { readonly mg: number } | { readonly fault: string };

/**
 * Read an amount.
 * @param typed number, unit and, for a volume, its temperature
 * @param ingredient whose density a volume needs; without one only weights are read
 * @param least smallest amount taken [mg]
 */
export function readAmount(typed: string, ingredient?: Ingredient, least = 1): ReadAmount {
  const [, figures, unitWord, at] = AMOUNT.exec(typed.trim()) ?? [];
  const unit = UNIT_OF[(unitWord ?? "").toLowerCase().replaceAll(/\s+/g, " ").trim()];
  const value = readFigure(figures ?? "");
  if (!unit || value === undefined) return { fault: notAnAmount(typed, figures, unitWord) };
  if ((unit === "g" || unit === "ml") && readsTwoWays(figures!)) {
    const [exact, grouped] = [`${figures!.trim()}0`, figures!.replace(/[.,]/, "").trim()];
    return {
      fault: `${quoted(typed)} can be read two ways. Write ${exact} ${unit} or ${grouped} ${unit}.`,
    };
  }
  const mg = unit in MG_OF ? value * MG_OF[unit as keyof typeof MG_OF] : volume(value, unit);
  if (typeof mg !== "number") return mg;
  const whole = Math.round(mg);
  if (whole < least || whole > GREATEST_MG) {
    const reason = whole > GREATEST_MG ? "more than ten tonnes" : "nothing";
    return { fault: `${quoted(typed)} is ${reason}. Check the number and the unit.` };
  }
  return { mg: whole };

  function volume(amount: number, unit: Unit): number | { fault: string } {
    const celsius = at === undefined ? USUAL_CELSIUS : Number(at.replace(",", "."));
    if (celsius < COLDEST_VOLUME_C || celsius > WARMEST_VOLUME_C) {
      const range = `${COLDEST_VOLUME_C} to ${WARMEST_VOLUME_C} °C`;
      return {
        fault: `A volume can be weighed at ${range}; ${celsius} °C is outside. Or weigh it.`,
      };
    }
    const density = ingredient && densityGPerMl(ingredient, celsius);
    if (density === undefined) {
      const what = ingredient ? ingredient.name : "this";
      return { fault: `The density of ${what} is not known: give the weight, in g, kg, oz or lb.` };
    }
    return amount * ML_OF[unit as keyof typeof ML_OF] * density * 1000;
  }
}

/**
 * Density of a fat as it stands settled at a temperature.
 * @returns grams per millilitre; nothing for what is no glyceride, or is not known well enough
 */
export function densityGPerMl(ingredient: Ingredient, celsius: number): number | undefined {
  const blend = { parts: [{ ingredient, share: WHOLE }] };
  const values = characteristicValues(blend);
  const melt = meltOf(blend);
  if (!values || !melt) return undefined;
  return fatDensityGPerMl(celsius, values, solidFatPercent(melt, "settled", celsius));
}

/** A figure of up to six decimals; where a single mark can be read two ways, it parts decimals. */
export function readFigure(typed: string): number | undefined {
  for (const decimals of [6, 3]) {
    const read = readDecimal(typed, decimals);
    if ("units" in read) return read.units / 10 ** decimals;
  }
  return undefined;
}

/** "1,500 g" may be one and a half grams or fifteen hundred. */
function readsTwoWays(figures: string): boolean {
  return /^[1-9]\d{0,2}[.,]\d{3}$/.test(figures.trim());
}

function notAnAmount(typed: string, figures = "", unit = ""): string {
  const units = UNITS.join(", ");
  if (typed.trim() === "") return `The amount is missing: write a number and one of ${units}.`;
  if (/^[\d.,’' ]+$/.test(typed.trim())) {
    return `${quoted(typed)} has no unit: add one of ${units}.`;
  }
  if (figures !== "" && !UNIT_OF[unit.toLowerCase().trim()]) {
    return `${quoted(unit.trim())} is not a unit known here: use one of ${units}.`;
  }
  return `${quoted(typed)} is not an amount: write a number and one of ${units}, such as 2.5 kg.`;
}

/** A weight for a page: grams below a kilogram, kilograms above. */
export function sayMass(mg: number, locale: string): string {
  const [value, unit] = Math.abs(mg) < 1_000_000 ? [mg / 1000, "g"] : [mg / 1_000_000, "kg"];
  const say = numberFormat(locale, { maximumFractionDigits: 3 });
  return `${say.format(value)}\u00a0${unit}`;
}

/** A weight for a file or a field, exact to the milligram: "1.25 kg", "300 g". */
export function writeMass(mg: number): string {
  if (mg % 1000 === 0 && mg < 1_000_000) return `${mg / 1000} g`;
  return `${(mg / 1_000_000).toFixed(6).replace(/\.?0+$/, "")} kg`;
}
