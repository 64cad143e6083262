/**
 * What the kitchen's page says: which law is in force, what the jars taught, what that makes of the bases.
 */
import type { Product } from "#core/compose/product.ts";
import { PUBLISHED_LAW, USUAL_AIR_FRACTION, yieldPa } from "#core/judge/firmness.ts";
import type { Judgement } from "#core/judge/verdict.ts";
import { BASES_MOST, JARS_LEAST, type BaseByLaws, type Kitchen } from "../kitchen/kitchen.ts";
import type { ShopRow } from "../storage/shops.ts";
import { countWords } from "../words/count-words.ts";
import { jarFormModel } from "./maker-kitchen-form.ts";
import { jarLine } from "./maker-kitchen-jars.ts";
import { momentIn } from "./maker-pages.ts";

export interface WrittenForm {
  /** Of the jar to come, so that a form sent twice is stored once. */
  readonly id: string;
  readonly fields: Parameters<typeof jarFormModel>[0];
  readonly faults: readonly string[];
  /** Why something else on the page was not done; empty when nothing was asked. */
  readonly notice: string;
}

/** The page of a kitchen. */
export function kitchenPage(
  shop: ShopRow,
  kitchen: Kitchen,
  { id, fields, faults, notice }: WrittenForm,
  products: readonly Product[],
) {
  const { errors, fit, inForce, jars } = kitchen;
  const when = momentIn(shop);
  const own = inForce.law !== undefined;
  return {
    title: "Kitchen",
    shop,
    locale: shop.locale,
    notice,
    headline: headline(kitchen),
    revision: inForce.revision,
    own,
    since: inForce.adoptedAt === undefined ? "" : when(inForce.adoptedAt),
    learnedFrom: countWords(inForce.jars, "jar"),
    ready: fit.ok,
    because: fit.ok ? "" : fit.because,
    newer: own && fit.ok && !sameLaw(kitchen),
    taught: errors.jars > 0,
    lesson: lesson(kitchen),
    lots: [...kitchen.learned.lots].map(([lot, factor]) => ({ lot, factor: factor.toFixed(2) })),
    constants: constants(kitchen),
    bases: errors.jars > 0 ? kitchen.bases.map(baseLine) : [],
    basesCut: kitchen.bases.length >= BASES_MOST ? BASES_MOST : 0,
    jars: jars.map((jar) => jarLine(jar, kitchen.learned.law)),
    form: { id, faults, ...jarFormModel(fields, products) },
  };
}

function headline({ errors, inForce }: Kitchen): string {
  if (inForce.law)
    return `Judged by your own kitchen, learned from ${countWords(inForce.jars, "jar")}`;
  if (errors.jars === 0) return "Teach Softset your kitchen";
  if (errors.jars < JARS_LEAST) {
    return `${countWords(JARS_LEAST - errors.jars, "more jar")}, and your kitchen can be judged by`;
  }
  return `${countWords(errors.jars, "jar")} read; judged by the published law`;
}

/** What the jars taught, in words. */
function lesson({ learned: { law }, errors: { jars, before, after } }: Kitchen): string {
  if (jars === 0) return "";
  const ratio = usual(law) / usual(PUBLISHED_LAW);
  const firmer = ratio >= 1;
  const times = (firmer ? ratio : 1 / ratio).toFixed(1);
  const sets =
    times === "1.0"
      ? "Your butter sets about as firm as published."
      : `Your butter sets about ${times} times as ${firmer ? "firm" : "soft"} as published.`;
  return (
    `${sets} The published law calls ${before} of ${countWords(jars, "jar")} by another class than you did. ` +
    `Learned from the other jars each time, your kitchen’s law calls ${after} of ${jars} so.`
  );
}

function constants({ learned: { law, spread } }: Kitchen) {
  const least = usual(law) * Math.exp(-spread.scale);
  const most = usual(law) * Math.exp(spread.scale);
  const plusMinus = (value: number) => `± ${value.toFixed(2)}`;
  return [
    {
      what: "Yield value at 20 % solid fat and 35 % air",
      published: kilopascal(usual(PUBLISHED_LAW)),
      own: kilopascal(usual(law)),
      spread: `${(least / 1000).toFixed(1)} to ${kilopascal(most)}`,
    },
    {
      what: "Exponent of solid fat",
      published: PUBLISHED_LAW.solidsExponent.toFixed(2),
      own: law.solidsExponent.toFixed(2),
      spread: plusMinus(spread.solids),
    },
    {
      what: "Exponent of what is not air",
      published: PUBLISHED_LAW.airExponent.toFixed(2),
      own: law.airExponent.toFixed(2),
      spread: plusMinus(spread.air),
    },
  ];
}

function baseLine({ product, base, published, own, alike }: BaseByLaws) {
  return {
    title: `${product.name}, ${base.name}`,
    celsius: String(product.useCelsius),
    published: classWords(published),
    own: classWords(own),
    changed: classWords(published) !== classWords(own),
    alike: alike < JARS_LEAST ? `${alike}: too few to lean on` : String(alike),
  };
}

function classWords({ firmness, verdict }: Judgement): string {
  const felt = firmness?.settled ?? "not judged";
  return verdict === "orderable" ? felt : `${felt}, ${verdict.replace("-", " ")}`;
}

function sameLaw({ learned: { law }, inForce }: Kitchen): boolean {
  return JSON.stringify(law) === JSON.stringify(inForce.law);
}

function usual(law: typeof PUBLISHED_LAW): number {
  return yieldPa(20, USUAL_AIR_FRACTION, law);
}

function kilopascal(pa: number): string {
  return `${(pa / 1000).toFixed(1)} kPa`;
}
