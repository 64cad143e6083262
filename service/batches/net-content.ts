/**
 * Weights of filled jars, read from a form and judged by the rule of the shop's market.
 */
import { EEA_AND_UK } from "#core/countries.ts";
import { adviseOn, adviseOnScale } from "#core/make/net-content-advice.ts";
import { type NetContentRule, checkNetContent } from "#core/make/net-content.ts";
import { numberOf, hasDecimals, saidOf } from "../typed/figure.ts";
import { textOf } from "../typed/text.ts";
import { tongueOf } from "../documents/tongue.ts";
import { sayAdvice } from "./net-content-words.ts";
import type { BodyOf } from "./record-shapes.ts";
import type { RunFigures } from "./record-figures.ts";

type NetContent = BodyOf<"net-content">;

/** Jars that are one kind to the law: one blend, under one label. */
export interface WeighedJar {
  /** Place of the run in the batch, from 0. */
  readonly run: number;
  readonly product: string;
  readonly base: string;
  readonly jarName: string;
  readonly labelMg: number;
  /** Filled of it, as far as the record knows. */
  readonly jars: number;
}

export interface JarFields {
  readonly jars: string;
  readonly tare: string;
  readonly weights: string;
}

/** More jars of a kind, or a heavier one, are a slip of the pen; own choice. */
const JARS_MOST = 10_000;
const MG_MOST = 20_000_000;

/** @param country ISO 3166-1 of the shop @returns nothing where we keep no rule, so that the maker says which */
export function ruleOfCountry(country: string): NetContentRule | undefined {
  if (country === "US") return "us";
  return EEA_AND_UK.has(country) ? "eu" : undefined;
}

/** The kinds of jar in a batch, run by run. */
export function weighedJars(runs: readonly RunFigures[]): WeighedJar[] {
  return runs.flatMap(({ product, base, jars, jarsDue, jarsFilled }, run) => {
    const kinds = new Map<string, WeighedJar>();
    for (const { jarName, fillG, quantity } of jars) {
      const labelMg = Math.round(fillG * 1000);
      const key = `${labelMg} ${jarName}`;
      const sofar = kinds.get(key)?.jars ?? 0;
      kinds.set(key, { run, product, base, jarName, labelMg, jars: sofar + quantity });
    }
    const [only, ...others] = kinds.values();
    const known = only && others.length === 0 && jarsFilled !== undefined && jarsFilled !== jarsDue;
    return known ? [{ ...only, jars: jarsFilled }] : [...kinds.values()];
  });
}

/** What was typed, a row for each kind. */
export function jarFieldsOf(form: FormData, kinds: readonly WeighedJar[]): JarFields[] {
  return kinds.map((_, k) => ({
    jars: textOf(form, `jars-${k}`),
    tare: textOf(form, `tare-${k}`),
    weights: textOf(form, `weights-${k}`),
  }));
}

/** Fields before anything was typed. */
export function emptyJarFields(kinds: readonly WeighedJar[]): JarFields[] {
  return kinds.map(({ jars }) => ({ jars: String(jars), tare: "", weights: "" }));
}

/**
 * Judge what was typed; kinds without a weight are left alone.
 * @param scaleStepMg smallest step of the shop's scale [mg]
 */
export function readNetContents(
  kinds: readonly WeighedJar[],
  fields: readonly JarFields[],
  rule: NetContentRule | undefined,
  scaleStepMg: number,
): { readonly bodies: readonly NetContent[] } | { readonly faults: readonly string[] } {
  if (!rule) return { faults: ["Choose the rule of the market the jars are sold in."] };
  const faults: string[] = [];
  const bodies = kinds.flatMap((kind, k): NetContent[] => {
    const typed = fields[k]!;
    if (typed.weights === "") return [];
    const read = readKind(kind, typed, faults);
    return read ? [judged(kind, read, rule, scaleStepMg)] : [];
  });
  if (bodies.length === 0 && faults.length === 0) {
    faults.push("Nothing is weighed yet: write the weights of the filled jars.");
  }
  return faults.length > 0 ? { faults } : { bodies };
}

interface ReadKind {
  readonly jars: number;
  readonly tareMg: number;
  readonly contentsMg: readonly number[];
}

function readKind(kind: WeighedJar, typed: JarFields, faults: string[]): ReadKind | undefined {
  const what = `${kind.jarName} ${kind.labelMg / 1000}\u00a0g`;
  const before = faults.length;
  const jars = /^\d{1,5}$/.test(typed.jars) ? Number(typed.jars) : 0;
  if (jars < 1 || jars > JARS_MOST) {
    faults.push(`${what}: write how many were filled, a whole number from 1 to ${JARS_MOST}.`);
  }
  const tareMg = typed.tare === "" ? 0 : milligramsOf(typed.tare);
  if (tareMg === undefined) {
    faults.push(
      `${what}: the tare ${saidOf(typed.tare)}. Write the weight of an empty jar, such as 68.4.`,
    );
  }
  const weights = weightsIn(typed.weights);
  if (jars >= 1 && weights.length > jars) {
    faults.push(
      `${what}: ${weights.length} weights are written, and ${jars} filled. Look at both figures.`,
    );
  }
  const contentsMg = weights.map((weight, at) => {
    const mg = milligramsOf(weight);
    if (mg === undefined) {
      faults.push(
        `${what}, jar ${at + 1}: the weight ${saidOf(weight)}. Write grams such as 188.4.`,
      );
    } else if (tareMg !== undefined && mg < tareMg) {
      faults.push(
        `${what}, jar ${at + 1}: ${weight} g is less than the empty jar. Look at the tare.`,
      );
    }
    return (mg ?? 0) - (tareMg ?? 0);
  });
  return faults.length > before ? undefined : { jars, tareMg: tareMg ?? 0, contentsMg };
}

/** One a line, or parted by blanks or semicolons; a comma before a digit belongs to the figure. */
function weightsIn(typed: string): string[] {
  return typed
    .replaceAll(/(\d)[\s\u00a0\u202f]*g\b/giu, "$1")
    .split(/[\s;]+|,(?!\d)/)
    .filter((each) => each !== "");
}

function milligramsOf(typed: string): number | undefined {
  const value = numberOf(typed.replace(/\s*g$/i, ""));
  const mg = Math.round(value * 1000);
  return mg >= 0 && mg <= MG_MOST && hasDecimals(value, 3) ? mg : undefined;
}

function judged(
  { run, jarName, labelMg }: WeighedJar,
  { jars, tareMg, contentsMg }: ReadKind,
  rule: NetContentRule,
  scaleStepMg: number,
): NetContent {
  const check = checkNetContent(rule, labelMg, contentsMg, jars);
  const scale = adviseOnScale(rule, labelMg, scaleStepMg);
  const english = tongueOf("en");
  const found = [...adviseOn(check, contentsMg, labelMg), ...(scale ? [scale] : [])];
  return {
    ...{ run, jarName, labelMg, jars, rule, tareMg, contentsMg: [...contentsMg] },
    verdict: check.verdict,
    found,
    // The record can be read without us: what was told stands in it in English, too.
    sentences: found.map((each) => sayAdvice(each, english)),
  };
}
