/**
 * The core beside what others would put in its place: solid fat by naive linear mixing, a linear program by a library,
 * a root by plain halving. (No library for roots is among the dependencies, and one would not be needed for this.)
 */
import solver from "javascript-lp-solver";
import { type Blend, WHOLE } from "#core/blend.ts";
import { type Melt, meltOf } from "#core/judge/melt.ts";
import { holdsTo } from "#core/judge/softening.ts";
import { solidFatPercent } from "#core/judge/solid-fat.ts";
import { type LinearProgram, solveLinear } from "#core/order/linear-program.ts";
import { type Chance, chanceFrom } from "#core/order/room/sequence.ts";
import { inLibrary } from "../helpers/library-blend.ts";
import { type Figure, figure, medianOf, sayNumber, timesOf } from "./figures.ts";

const FATS = [
  ...["shea-butter", "cocoa-butter", "mango-butter", "kokum-butter", "coconut-oil"],
  ...["murumuru-butter", "jojoba-oil", "sunflower-oil", "olive-oil", "sweet-almond-oil"],
];
const CELSIUS = [5, 10, 15, 20, 25, 30, 35, 40];
const BLENDS = 400;
const PARTS = 5;
const PROGRAMS = 400;
const TURNS = 7;

export function coreSpeeds(): Figure[] {
  const draw = chanceFrom(1);
  const blends = Array.from({ length: BLENDS }, () => aBlend(draw));
  return [...mixing(blends), rootFinding(blends), linearPrograms(draw)];
}

/** A few fats of the library in shares drawn by chance. */
function aBlend(draw: Chance): Blend {
  const fats = [...FATS].sort(() => draw() - 0.5).slice(0, PARTS);
  const cuts = fats.slice(1).map(() => 1 + Math.floor(draw() * (WHOLE - 1)));
  const edges = [0, ...cuts.sort((one, other) => one - other), WHOLE];
  const parts = fats.map((id, at) => ({
    ingredient: inLibrary(id),
    share: edges[at + 1]! - edges[at]!,
  }));
  return { parts: parts.filter(({ share }) => share > 0) };
}

/** Curves of eight temperatures; and how far those of linear mixing lie from ours. */
function mixing(blends: readonly Blend[]): Figure[] {
  const pure = new Map(FATS.map((id) => [id, curveOf(meltOf(pureOf(id))!)]));
  const naive = ({ parts }: Blend) =>
    CELSIUS.map((_, at) =>
      parts.reduce(
        (sum, { ingredient, share }) => sum + (share / WHOLE) * pure.get(ingredient.id)![at]!,
        0,
      ),
    );
  // A blend of its own each time, as every slider move makes one: what is kept for a blend must not flatter.
  const own = ({ parts }: Blend) => curveOf(meltOf({ parts: [...parts] })!);
  const apart = blends.flatMap((blend) => {
    const theirs = naive(blend);
    return own(blend).map((percent, at) => Math.abs(percent - theirs[at]!));
  });
  const { p50, p95 } = timesOf(apart);
  return [
    figure("a settled curve of 8 temperatures", each(blends, own), "µs", {
      beside: [figure("linear mixing of pure curves", each(blends, naive), "µs")],
    }),
    figure("linear mixing off our curve, half the values under", p50, "points", {
      more: `19 in 20 under ${sayNumber(p95)}`,
    }),
  ];
}

function pureOf(id: string): Blend {
  return { parts: [{ ingredient: inLibrary(id), share: WHOLE }] };
}

function curveOf(melt: Melt): number[] {
  return CELSIUS.map((celsius) => solidFatPercent(melt, "settled", celsius));
}

/** The temperature at which a tenth is solid, to 0.01 C, by both. */
function rootFinding(blends: readonly Blend[]): Figure {
  const melts = () => blends.map(({ parts }) => meltOf({ parts: [...parts] })!);
  const halving = (melt: Melt) => {
    let [cold, warm] = [-10, 60];
    while (warm - cold > 0.01) {
      const middle = (cold + warm) / 2;
      if (solidFatPercent(melt, "settled", middle) >= 10) cold = middle;
      else warm = middle;
    }
    return cold;
  };
  const own = (melt: Melt) => holdsTo(melt, "settled", 10, false);
  for (const melt of melts()) {
    const found = own(melt);
    const isSame = found === undefined || Math.abs(found - halving(melt)) <= 0.02;
    if (!isSame) throw new Error("the two roots differ");
  }
  return figure("softening temperature found", each(melts, own), "µs", {
    beside: [figure("plain halving to the same 0.01 °C", each(melts, halving), "µs")],
  });
}

/** Programs of the size that the nearest blend asks for: ten shares, five rows that can be kept. */
function linearPrograms(draw: Chance): Figure {
  const programs = Array.from({ length: PROGRAMS }, () => aProgram(draw));
  for (const program of programs) {
    const ours = solveLinear(program);
    const theirs = solver.Solve(forLibrary(program)) as unknown as { readonly result: number };
    const cost = ours.kind === "least" ? ours.cost : Number.NaN;
    if (!(Math.abs(cost - theirs.result) < 1e-6)) throw new Error("the two answers differ");
  }
  const theirs = programs.map(forLibrary);
  return figure("a linear program, 10 values, 5 rows", each(programs, solveLinear), "µs", {
    beside: [
      figure(
        "library",
        each(theirs, (one) => solver.Solve(one)),
        "µs",
      ),
    ],
  });
}

/** Costs above 0 and rows that half of the greatest values keeps, so that there is an answer. */
function aProgram(draw: Chance): LinearProgram {
  const figure = (from: number, to: number) => from + Math.floor(draw() * (to - from + 1));
  const costs = Array.from({ length: 10 }, () => figure(1, 9));
  const greatest = costs.map(() => figure(4, 20));
  const rows = Array.from({ length: 5 }, () => {
    const of = costs.map(() => figure(0, 9));
    const half = of.reduce((sum, one, at) => sum + (one * greatest[at]!) / 2, 0);
    return { of, is: "at-least" as const, limit: half };
  });
  return { costs, greatest, rows };
}

function forLibrary({ costs, greatest, rows }: LinearProgram) {
  const tops = greatest.map((most, at) => [`top${at}`, { max: most }] as const);
  const limits = rows.map(({ limit }, row) => [`row${row}`, { min: limit }] as const);
  const variables = costs.map((cost, at) => {
    const own = rows.map(({ of }, row) => [`row${row}`, of[at]!] as const);
    return [`x${at}`, { cost, [`top${at}`]: 1, ...Object.fromEntries(own) }] as const;
  });
  return {
    ...{ optimize: "cost", opType: "min" as const },
    constraints: Object.fromEntries<{ min?: number; max?: number }>([...tops, ...limits]),
    variables: Object.fromEntries(variables),
  };
}

/**
 * Time of one, in the middle of several turns through all [microseconds].
 * @param items or what makes them anew for each turn, outside the clock
 */
function each<Item>(
  items: readonly Item[] | (() => readonly Item[]),
  work: (item: Item) => unknown,
): number {
  return medianOf(
    Array.from({ length: TURNS }, () => {
      const of = typeof items === "function" ? items() : items;
      const began = performance.now();
      for (const item of of) work(item);
      return ((performance.now() - began) * 1000) / of.length;
    }),
  );
}
