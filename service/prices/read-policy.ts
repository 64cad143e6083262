/**
 * What was typed on a price sheet -> a price policy, or a sentence for each field that cannot be taken.
 */
import { WHOLE } from "#core/blend.ts";
import type { Jar } from "#core/compose/product.ts";
import type { PricePolicy } from "#core/price/policy.ts";
import type { TillCurrency } from "../tills/currency-table.ts";
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
} from "./price-fields.ts";
import type { Fault } from "../typed/fault.ts";
import { plainAmount, readCount, readMoney, readPercent } from "../typed/read-money.ts";

/** Each fault's sentence begins with the field's name. */
export type ReadPolicy = { readonly policy: PricePolicy } | { readonly faults: readonly Fault[] };

/**
 * Read a price sheet.
 * @param typed by field name; a field that is not there counts as empty
 * @param jars of the product; every one needs a price
 */
export function readPolicy(
  typed: PriceFields,
  jars: readonly Jar[],
  currency: TillCurrency,
): ReadPolicy {
  const faults: Fault[] = [];
  const values = new Map<string, number>();
  const step = readStep(typed, currency, faults);
  for (const field of fieldsAsked(jars)) {
    const text = typed[field.name] ?? "";
    if (field.optional && text.trim() === "") continue;
    const read = readField(field, text, currency);
    if ("value" in read) values.set(field.name, read.value);
    else faults.push({ field: field.name, sentence: `${field.label}: ${read.sentence}` });
  }
  const kind = chosen(typed, "profitKind", ["margin", "markup"], faults);
  const materialAt = chosen(typed, "materialAt", ["pack", "dearest-lot"], faults);
  const taxIncluded = chosen(typed, "taxIncluded", ["yes", "no"], faults) === "yes";
  if (kind === "margin" && (values.get("profitPercent") ?? 0) >= WHOLE) {
    faults.push({
      field: "profitPercent",
      sentence: "Profit: a margin stays below 100 %, or the price would have no end.",
    });
  }
  faults.push(...limitFaults(values, jars, currency));
  if (faults.length > 0) return { faults };
  const value = (name: string) => values.get(name)!;
  const said = <Key extends string>(key: Key, name: string) =>
    values.has(name) ? ({ [key]: value(name) } as Record<Key, number>) : {};
  return {
    policy: {
      lossShare: value("loss"),
      jarMinor: ofJars(values, "jar", jars),
      labelMinor: value("label"),
      labourPerJarMinor: value("labourJar"),
      labourPerBatchMinor: value("labourBatch"),
      jarsPerBatch: value("jarsPerBatch"),
      ...said("overheadPerJarMinor", "overheadJar"),
      ...said("overheadShare", "overheadPercent"),
      profit: { kind, share: value("profitPercent") },
      taxShare: value("taxPercent"),
      taxIncluded,
      roundUpToMinor: step,
      leastMinor: ofJars(values, "least", jars),
      mostMinor: ofJars(values, "most", jars),
      materialAt,
    },
  };
}

function fieldsAsked(jars: readonly Jar[]): PriceField[] {
  return [
    ...MATERIAL_FIELDS,
    ...WORK_FIELDS,
    ...OVERHEAD_FIELDS,
    PROFIT_FIELD,
    TAX_FIELD,
    ...jars.flatMap((jar) => JAR_FIELDS.map((field) => jarField(field, jar))),
  ];
}

function readField({ kind, most }: PriceField, text: string, currency: TillCurrency) {
  if (kind === "money") return readMoney(text, currency);
  return kind === "percent" ? readPercent(text, most) : readCount(text);
}

/** The rounding step, one of those offered or typed; 1 with a fault when it is none. */
function readStep(typed: PriceFields, currency: TillCurrency, faults: Fault[]): number {
  const { roundTo = "" } = typed;
  const offered = stepsOffered(currency).find((step) => String(step) === roundTo);
  if (offered !== undefined) return offered;
  const read = readMoney(typed[STEP_FIELD.name] ?? "", currency);
  const fault = (sentence: string) => {
    faults.push({ field: STEP_FIELD.name, sentence: `Rounding step: ${sentence}` });
    return 1;
  };
  if ("sentence" in read) return fault(read.sentence);
  if (read.value === 0) return fault("Write a step above nothing.");
  const till = tillFault(read.value, currency);
  return till ? fault(till) : read.value;
}

/** Least above greatest, nothing as the greatest, and least prices that a till cannot take. */
function limitFaults(
  values: ReadonlyMap<string, number>,
  jars: readonly Jar[],
  currency: TillCurrency,
): Fault[] {
  return jars.flatMap(({ id, name }) => {
    const least = values.get(`least.${id}`);
    const most = values.get(`most.${id}`);
    const faults: Fault[] = [];
    const fault = (what: "least" | "most", sentence: string) =>
      faults.push({ field: `${what}.${id}`, sentence });
    if (most === 0) fault("most", `Greatest price, ${name}: write more than nothing, or leave it.`);
    const till = least ? tillFault(least, currency) : "";
    if (till) fault("least", `Least price, ${name}: ${till}`);
    if (least !== undefined && most && least > most) {
      fault("least", `Least price, ${name}: it lies above the greatest. Change one of them.`);
    }
    return faults;
  });
}

/** Empty when the payment service can take an amount of this currency. */
function tillFault(minor: number, { code, exponent, stepMinor }: TillCurrency): string {
  if (minor % stepMinor === 0) return "";
  return `In ${code} a till takes multiples of ${plainAmount(stepMinor, exponent)} only.`;
}

function ofJars(values: ReadonlyMap<string, number>, what: string, jars: readonly Jar[]) {
  return Object.fromEntries(
    jars.flatMap(({ id }): [string, number][] => {
      const minor = values.get(`${what}.${id}`);
      return minor === undefined ? [] : [[id, minor]];
    }),
  );
}

const CHOICES = {
  profitKind: "Say whether the profit is a margin or a markup.",
  materialAt: "Say which cost of material the price is made from.",
  taxIncluded: "Say whether the price holds the tax.",
};

function chosen<Value extends string>(
  typed: PriceFields,
  field: keyof typeof CHOICES,
  values: readonly [Value, Value],
  faults: Fault[],
): Value {
  const value = values.find((each) => each === typed[field]);
  if (value === undefined) faults.push({ field, sentence: CHOICES[field] });
  return value ?? values[0];
}
