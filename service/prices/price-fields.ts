/**
 * The fields of a price sheet: what each asks, in which unit, and one plain sentence about it. Page, reader and page
 * script go by this one table.
 */
import type { Jar } from "#core/compose/product.ts";
import type { PricePolicy } from "#core/price/policy.ts";
import type { TillCurrency } from "../tills/currency-table.ts";
import { plainAmount, plainPercent } from "../typed/read-money.ts";

/** What was typed, by field; a jar's own field carries the jar's id after a point: "jar.jar-60". */
export type PriceFields = Readonly<Record<string, string>>;

export type FieldKind = "money" | "percent" | "count";

export interface PriceField {
  readonly name: string;
  readonly label: string;
  readonly kind: FieldKind;
  /** May stay empty: it is then not said. */
  readonly optional: boolean;
  /** Greatest percentage taken. */
  readonly most: number;
  readonly words: string;
}

function field(
  name: string,
  kind: FieldKind,
  label: string,
  words: string,
  more: Partial<PriceField> = {},
): PriceField {
  return { name, kind, label, words, optional: false, most: 100, ...more };
}

/** A markup or an overhead above this is a slip of the hand, not a policy [%] */
const PERCENT_MOST = 1_000;

export const MATERIAL_FIELDS = [
  field(
    "loss",
    "percent",
    "Loss allowance",
    "What stays in bowl and beater: bulk made beyond what goes into the jars.",
  ),
];

export const WORK_FIELDS = [
  field("label", "money", "Label and carton", "For one jar."),
  field("labourJar", "money", "Labour for one jar", "Whipping, filling and packing it."),
  field(
    "labourBatch",
    "money",
    "Labour for one batch",
    "Weighing, melting and cleaning, however many jars come of it.",
  ),
  field(
    "jarsPerBatch",
    "count",
    "Jars in a usual batch",
    "The labour for a batch is spread over so many.",
  ),
];

export const OVERHEAD_FIELDS = [
  field("overheadJar", "money", "Overheads for one jar", "Rent, power, wear of tools.", {
    optional: true,
  }),
  field(
    "overheadPercent",
    "percent",
    "Overheads as a part",
    "Percent of material, jar, label and labour, if you reckon so.",
    { optional: true, most: PERCENT_MOST },
  ),
];

export const PROFIT_FIELD = field(
  "profitPercent",
  "percent",
  "Profit",
  "A margin is a part of the price before tax; a markup is a part of the cost.",
  { most: PERCENT_MOST },
);

export const TAX_FIELD = field(
  "taxPercent",
  "percent",
  "Rate of tax",
  "Sales or value-added tax on the price; 0 if you charge none.",
);

export const STEP_FIELD = field(
  "roundTyped",
  "money",
  "Another step",
  "Prices are rounded up to a multiple of it.",
);

export const JAR_FIELDS = [
  field("jar", "money", "Jar and lid", "What an empty one costs you."),
  field("least", "money", "Least price", "Never sold for less; empty for none.", {
    optional: true,
  }),
  field("most", "money", "Greatest price", "A dearer blend is not sold; empty for none.", {
    optional: true,
  }),
];

/** The field of one jar. */
export function jarField(of: PriceField, jar: Jar): PriceField {
  const label = `${of.label}, ${jar.name} ${jar.fillG}\u00a0g`;
  return { ...of, name: `${of.name}.${jar.id}`, label };
}

/** Steps offered by name: a tenth, a half and a whole unit, as far as the till can count them [minor units]. */
export function stepsOffered({ exponent, stepMinor }: TillCurrency): number[] {
  const unit = 10 ** Math.max(exponent, 2); // a currency without decimals steps in tens, fifties and hundreds
  return [unit / 10, unit / 2, unit].filter((step) => step % stepMinor === 0);
}

/** The fields as they would be typed for a policy. */
export function fieldsOfPolicy(
  policy: PricePolicy,
  jars: readonly Jar[],
  currency: TillCurrency,
): PriceFields {
  const money = (minor: number | undefined) =>
    minor === undefined ? "" : plainAmount(minor, currency.exponent);
  const percent = (share: number | undefined) => (share === undefined ? "" : plainPercent(share));
  const offered = stepsOffered(currency).includes(policy.roundUpToMinor);
  return {
    materialAt: policy.materialAt ?? "pack",
    loss: percent(policy.lossShare),
    label: money(policy.labelMinor),
    labourJar: money(policy.labourPerJarMinor),
    labourBatch: money(policy.labourPerBatchMinor),
    jarsPerBatch: String(policy.jarsPerBatch),
    overheadJar: money(policy.overheadPerJarMinor),
    overheadPercent: percent(policy.overheadShare),
    profitKind: policy.profit.kind,
    profitPercent: percent(policy.profit.share),
    taxPercent: percent(policy.taxShare),
    taxIncluded: (policy.taxIncluded ?? true) ? "yes" : "no",
    roundTo: offered ? String(policy.roundUpToMinor) : "other",
    roundTyped: offered ? "" : money(policy.roundUpToMinor),
    ...Object.fromEntries(
      jars.flatMap(({ id }) => [
        [`jar.${id}`, money(policy.jarMinor[id])],
        [`least.${id}`, money(policy.leastMinor?.[id])],
        [`most.${id}`, money(policy.mostMinor?.[id])],
      ]),
    ),
  };
}
