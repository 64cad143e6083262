/**
 * Iodine value and saponification value of a blend, from composition.
 *
 * Method: AOCS Cd 1c-85 (iodine value: double bonds of the triacylglycerols) and AOCS Cd 3a-94 in its molar form
 * (saponification value 3 x 56.105 x 1000 / M of the triacylglycerol). Both are per gram, so a blend's value is the
 * mass-weighted sum. Unsaponifiables count nothing; wax esters and hydrocarbons bring a measured value.
 * Powders are no fat and stay outside the mean. Liquids without a value (essential oils) are left out of it too, up to
 * 1 % of the fat together (own choice): whatever they are, that moves the iodine value by less than 6 (a terpene of
 * three double bonds, C10H16, has 559) and the saponification value by less than 3 (between nothing and 310, an ester
 * as small as geranyl formate). Above 1 % there is no figure.
 * Limits: AOCS says the calculated iodine value runs low above 0.5 % unsaponifiables; against titration of nine oils
 * ours is off by -3.2 to +7.4, mean +1.9.
 */
import type { Blend } from "../blend.ts";
import type { Composition, Ingredient } from "../ingredient.ts";
import { meanTagMolarMass, molesOfFattyAcids } from "./distribution.ts";
import { parseTriacylglycerol } from "./triacylglycerol.ts";

export interface CharacteristicValues {
  /** [g iodine per 100 g] */
  readonly iodineValue: number;
  /** [mg KOH per g] */
  readonly saponificationValue: number;
}

export const IODINE_MOLAR_MASS = 253.809; // I2
const KOH_MOLAR_MASS = 56.105;

/** Part of the fat that may be without a value. Own choice. */
const LEFT_OUT_UP_TO = 0.01;

const values = new WeakMap<Composition, CharacteristicValues>();

/**
 * Values of a blend, per gram of its fat.
 * @returns both values; nothing when more than 1 % of the fat has neither a composition nor a measured value
 */
export function characteristicValues(blend: Blend): CharacteristicValues | undefined {
  let iodineValue = 0;
  let saponificationValue = 0;
  let fat = 0;
  let leftOut = 0;
  for (const { ingredient, share } of blend.parts) {
    if (ingredient.composition.kind === "undissolved") continue;
    const own = valuesOf(ingredient);
    if (!own) {
      leftOut += share;
      continue;
    }
    iodineValue += own.iodineValue * share;
    saponificationValue += own.saponificationValue * share;
    fat += share;
  }
  if (fat === 0 || leftOut > LEFT_OUT_UP_TO * (fat + leftOut)) return undefined;
  return { iodineValue: iodineValue / fat, saponificationValue: saponificationValue / fat };
}

/** Values of one ingredient, measured where given. */
export function valuesOf(ingredient: Ingredient): CharacteristicValues | undefined {
  const { iodineValue, saponificationValue } = ingredient.measured ?? {};
  const computed = computedValues(ingredient.composition);
  const iodine = iodineValue ?? computed?.iodineValue;
  const saponification = saponificationValue ?? computed?.saponificationValue;
  if (iodine === undefined || saponification === undefined) return undefined;
  return { iodineValue: iodine, saponificationValue: saponification };
}

function computedValues(composition: Composition): CharacteristicValues | undefined {
  if (composition.kind !== "fatty-acids" && composition.kind !== "triacylglycerols")
    return undefined;
  let known = values.get(composition);
  if (!known) {
    const { molarMass, doubleBonds } =
      composition.kind === "fatty-acids"
        ? fromFattyAcids(composition.percent)
        : fromSpecies(composition.percent);
    const saponifiable = 1 - (composition.unsaponifiablePercent ?? 0) / 100;
    known = {
      iodineValue: (100 * saponifiable * doubleBonds * IODINE_MOLAR_MASS) / molarMass,
      saponificationValue: (saponifiable * 3 * KOH_MOLAR_MASS * 1000) / molarMass,
    };
    values.set(composition, known);
  }
  return known;
}

function fromFattyAcids(percent: Readonly<Record<string, number>>) {
  const moles = molesOfFattyAcids(percent);
  let doubleBonds = 0;
  for (const [acid, share] of moles) doubleBonds += 3 * share * acid.doubleBonds;
  return { molarMass: meanTagMolarMass(moles), doubleBonds };
}

function fromSpecies(percent: Readonly<Record<string, number>>) {
  let grams = 0;
  let moles = 0;
  let doubleBonds = 0;
  for (const [name, share] of Object.entries(percent)) {
    const tag = parseTriacylglycerol(name);
    if (!tag) continue;
    grams += share;
    moles += share / tag.molarMass;
    doubleBonds += (share / tag.molarMass) * tag.doubleBonds;
  }
  return { molarMass: grams / moles, doubleBonds: doubleBonds / moles };
}
