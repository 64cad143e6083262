/**
 * What still stands between a draft and its publishing, in the order of the sheets.
 */
import { WHOLE } from "#core/blend.ts";
import { type Base, type Product, ingredientsOf } from "#core/compose/product.ts";
import { makeTariff } from "#core/price/tariff.ts";
import { ProductShape } from "../shapes.ts";
import { type Desk, shelfFault } from "./desk.ts";
import { boundFaults, doseFault } from "./doses.ts";
import type { ProductDraft, Sheet } from "./draft-shape.ts";
import { percentWords, sameName } from "./fields.ts";
import { saying } from "./judge-base.ts";

export interface Obstacle {
  readonly sheet: Sheet;
  /** The base it is about. */
  readonly base?: string;
  readonly sentence: string;
}

/** Everything that stands in the way, the room of the bases left aside: that takes a second and is asked for apart. */
export function obstaclesOf({ product, pricePolicy }: ProductDraft, desk: Desk): Obstacle[] {
  const found: Obstacle[] = [
    ...wordObstacles(product),
    ...placeObstacles(product, desk),
    ...baseObstacles(product, desk),
    ...additiveObstacles(product, desk),
    ...jarObstacles(product),
    ...priceObstacles(product, pricePolicy, desk),
  ];
  if (found.length > 0 || ProductShape.safeParse(product).success) return found;
  return [{ sheet: "words", sentence: "A part of this product is missing. Save each sheet once." }];
}

function wordObstacles({ name }: Product): Obstacle[] {
  return name === "" ? [{ sheet: "words", sentence: "Give the product a name." }] : [];
}

function placeObstacles({ places }: Product, desk: Desk): Obstacle[] {
  return places.flatMap(({ name, allowed }) => {
    const faults = allowed.map((id) => shelfFault(desk, id)).filter(Boolean);
    if (allowed.length === 0) faults.unshift(`Tick at least one oil for the place “${name}”.`);
    return faults.map((sentence) => ({ sheet: "oils" as const, sentence }));
  });
}

function baseObstacles(product: Product, desk: Desk): Obstacle[] {
  const { bases } = product;
  if (bases.length === 0) {
    return [
      { sheet: "bases", sentence: "Write a first base: a blend that a customer starts from." },
    ];
  }
  return bases.flatMap((base) =>
    faultsOfBase(product, base, desk).map((sentence) => ({
      sheet: "bases" as const,
      base: base.id,
      sentence,
    })),
  );
}

function faultsOfBase(product: Product, base: Base, desk: Desk): string[] {
  const parts = [...base.butters, ...base.oils];
  const faults = parts
    .map(({ ingredient }) => shelfFault(desk, ingredient))
    .filter(Boolean)
    .concat(boundFaults(product, base, desk))
    .map((sentence) => `${base.name}: ${sentence}`);
  const off = sumOf(product, base) - WHOLE;
  if (off !== 0) {
    const direction = off > 0 ? "too much" : "missing";
    faults.push(
      `${base.name} adds up to ${percentWords(sumOf(product, base))}: ${percentWords(Math.abs(off))} ${direction}.`,
    );
  }
  for (const { place: id, ingredient } of base.oils) {
    const place = product.places.find((each) => each.id === id);
    if (!place)
      faults.push(`${base.name} has an oil in a place that is no longer there. Save it again.`);
    else if (!place.allowed.includes(ingredient)) {
      const name = desk.ingredientOf(ingredient)?.name ?? ingredient;
      faults.push(`${base.name} starts with ${name}, which “${place.name}” does not allow.`);
    }
  }
  return faults;
}

/** Share of everything in a base, additives among it [hundredths of a percent] */
export function sumOf({ additives }: Product, { butters, oils }: Base): number {
  return [...butters, ...oils, ...additives].reduce((sum, { share }) => sum + share, 0);
}

function additiveObstacles({ additives }: Product, desk: Desk): Obstacle[] {
  return additives.flatMap(({ ingredient, share }) =>
    [shelfFault(desk, ingredient), doseFault(desk, ingredient, share)]
      .filter(Boolean)
      .map((sentence) => ({ sheet: "additives" as const, sentence })),
  );
}

function jarObstacles({ jars }: Product): Obstacle[] {
  if (jars.length === 0) return [{ sheet: "jars", sentence: "Add a jar to sell it in." }];
  const twice = jars.find(({ name }, at) =>
    jars.slice(0, at).some((before) => sameName(before.name, name)),
  );
  return twice ? [{ sheet: "jars", sentence: `Two jars are called “${twice.name}”.` }] : [];
}

function priceObstacles(
  product: Product,
  policy: ProductDraft["pricePolicy"],
  desk: Desk,
): Obstacle[] {
  const ids = ingredientsOf(product);
  const sentences = product.jars.flatMap((jar) => {
    if (policy.jarMinor[jar.id] === undefined) {
      return [`Say what the jar “${jar.name}” costs you.`];
    }
    const made = makeTariff(policy, jar, desk.costs, ids);
    return "tariff" in made ? [] : saying(made.findings, desk);
  });
  return [...new Set(sentences)].map((sentence) => ({ sheet: "price", sentence }));
}
