/**
 * The price sheet of a product: its fields with what was typed, and what one jar would earn under them.
 */
import type { Jar } from "#core/compose/product.ts";
import {
  JAR_FIELDS,
  MATERIAL_FIELDS,
  OVERHEAD_FIELDS,
  PROFIT_FIELD,
  type PriceField,
  type PriceFields,
  STEP_FIELD,
  TAX_FIELD,
  WORK_FIELDS,
  jarField,
  stepsOffered,
} from "../prices/price-fields.ts";
import { type Fault, faultOf } from "../typed/fault.ts";
import { plainAmount } from "../typed/read-money.ts";
import { readPolicy } from "../prices/read-policy.ts";
import { type TrialWords, trialWords } from "../prices/trial-words.ts";
import { type TrialGround, tryPolicy } from "../prices/what-if.ts";

export interface PriceSheet {
  readonly product: { readonly id: string; readonly name: string };
  readonly typed: PriceFields;
  /** The fields as they are stored; the form carries them, to tell what somebody else saved meanwhile. */
  readonly stored: PriceFields;
  readonly revision: number;
  readonly ground: TrialGround;
  readonly blend: string;
  readonly jar: string;
  readonly saved: boolean;
  /** Whether faults are to be told: not on a sheet that is only opened. */
  readonly sent: boolean;
  /** Somebody saved other prices since the form was opened. */
  readonly moved: boolean;
}

/** The page of a price sheet. */
export function pricePage(sheet: PriceSheet) {
  const { product, typed, stored, ground, revision, saved, moved } = sheet;
  const { currency, jars, blends } = ground;
  const read = readPolicy(typed, jars, currency);
  const faults = "faults" in read && sheet.sent ? read.faults : [];
  const show = fieldsIn(typed, currency.code, faults);
  return {
    product,
    faults,
    moved,
    saved: saved && !moved,
    changes: moved ? changesOf(stored, typed, jars) : [],
    revision,
    was: JSON.stringify(stored),
    data: JSON.stringify(ground),
    noJars: jars.length === 0,
    materials: choices(typed["materialAt"], [
      ["pack", "The pack price on your shelf"],
      ["dearest-lot", "The dearest lot on hand, or the pack where no lot tells its cost"],
    ]),
    materialFields: MATERIAL_FIELDS.map(show),
    jars: jars.map((jar) => ({
      name: `${jar.name} ${jar.fillG}\u00a0g`,
      fields: JAR_FIELDS.map((field) => ({
        ...show(jarField(field, jar)),
        label: field.label,
      })),
    })),
    workFields: WORK_FIELDS.map(show),
    overheadFields: OVERHEAD_FIELDS.map(show),
    profitField: show(PROFIT_FIELD),
    profits: choices(typed["profitKind"], [
      ["margin", "of the price before tax (margin)"],
      ["markup", "of the cost (markup)"],
    ]),
    taxField: show(TAX_FIELD),
    taxes: choices(typed["taxIncluded"], [
      ["yes", "The price holds it: what a customer sees is what a customer pays"],
      ["no", "Tax comes on top: a customer sees price, tax and total, and pays the total"],
    ]),
    steps: choices(typed["roundTo"], [
      ...stepsOffered(currency).map((step): [string, string] => [
        String(step),
        `to ${plainAmount(step, currency.exponent)}`,
      ]),
      ["other", "to another step"],
    ]),
    stepField: show(STEP_FIELD),
    trialBlends: choices(
      sheet.blend,
      blends.map(({ key, name }) => [key, name]),
    ),
    trialJars: choices(
      sheet.jar,
      jars.map(({ id, name, fillG }) => [id, `${name} ${fillG}\u00a0g`]),
    ),
    ...trialOf(sheet, read),
  };
}

const EMPTY_WORDS: TrialWords = {
  short: "",
  figures: [],
  notes: [],
  told: "",
  bar: [],
  lines: [],
  total: "",
};

/** The trial as the page shows it, or why there is none. */
function trialOf({ ground, blend, jar }: PriceSheet, read: ReturnType<typeof readPolicy>) {
  if ("faults" in read) {
    const because = ["The price appears here once every field can be read."];
    return { trial: EMPTY_WORDS, because, priced: false };
  }
  const trial = tryPolicy(ground, read.policy, blend, jar);
  if ("because" in trial) return { trial: EMPTY_WORDS, because: trial.because, priced: false };
  return { trial: trialWords(trial, ground), because: [], priced: true };
}

function fieldsIn(typed: PriceFields, code: string, faults: readonly Fault[]) {
  const units = { money: code, percent: "%", count: "jars" };
  return ({ name, label, kind, words }: PriceField) => {
    return {
      name,
      label,
      words,
      fault: faultOf(faults, name),
      unit: units[kind],
      typed: typed[name] ?? "",
    };
  };
}

function choices(chosen: string | undefined, all: readonly (readonly [string, string])[]) {
  return all.map(([value, words]) => ({ value, words, chosen: value === chosen }));
}

/** What the stored sheet says differently from what was typed. */
function changesOf(stored: PriceFields, typed: PriceFields, jars: readonly Jar[]) {
  return Object.keys(stored)
    .filter((name) => (stored[name] ?? "") !== (typed[name] ?? ""))
    .map((name) => ({
      what: labelOf(name, jars),
      theirs: stored[name] || "empty",
      yours: typed[name] || "empty",
    }));
}

const CHOICE_LABELS: Readonly<Record<string, string>> = {
  materialAt: "Cost of material",
  profitKind: "Margin or markup",
  taxIncluded: "Price holds the tax",
  roundTo: "Rounding",
};

function labelOf(name: string, jars: readonly Jar[]): string {
  const fields = [
    ...MATERIAL_FIELDS,
    ...WORK_FIELDS,
    ...OVERHEAD_FIELDS,
    PROFIT_FIELD,
    TAX_FIELD,
    STEP_FIELD,
    ...jars.flatMap((jar) => JAR_FIELDS.map((field) => jarField(field, jar))),
  ];
  return fields.find((field) => field.name === name)?.label ?? CHOICE_LABELS[name] ?? name;
}
