/**
 * How long a full judgement of ten ingredients at eight temperatures takes, fresh and settled, with every root.
 */
import { makeBlend } from "#core/blend.ts";
import { judgeBlend } from "#core/judge/verdict.ts";
import { ingredientById } from "#data/library.ts";

const BLENDS: Readonly<Record<string, Readonly<Record<string, number>>>> = {
  "judge 10 ingredients at 8 temperatures": {
    "shea-butter": 3500,
    "mango-butter": 1500,
    "cocoa-butter": 1000,
    "kokum-butter": 500,
    "jojoba-oil": 1000,
    "sunflower-oil": 800,
    "sweet-almond-oil": 700,
    "olive-oil": 500,
    "argan-oil": 450,
    tocopherol: 50,
  },
  "the same with coconut oil and murumuru butter": {
    "shea-butter": 3500,
    "mango-butter": 1000,
    "cocoa-butter": 1000,
    "coconut-oil": 1000,
    "murumuru-butter": 500,
    "jojoba-oil": 1000,
    "sunflower-oil": 800,
    "olive-oil": 700,
    "argan-oil": 450,
    tocopherol: 50,
  },
};

const QUESTION = {
  celsius: [5, 10, 15, 20, 25, 30, 35, 40],
  useCelsius: 21,
  airFraction: 0.35,
  rules: { firmness: ["soft", "firm"], softensAboveLeastCelsius: 26, poreRatingMost: 4 },
} as const;

const WARM_UP = 500;
const RUNS = 2000;

/** Median time of one judgement per blend [microseconds] */
export function medianMicroseconds(): { readonly what: string; readonly us: number }[] {
  return Object.entries(BLENDS).map(([what, shares]) => {
    const parts = Object.entries(shares).map(([id, share]) => ({
      ingredient: ingredientById(id)!,
      share,
    }));
    const made = makeBlend(parts);
    if ("findings" in made) throw new Error(`${what}: the shares are wrong`);
    // A blend of its own each time, as every slider move makes one: what is kept per blend must not flatter.
    const judgeOnce = () => judgeBlend({ parts: made.blend.parts }, QUESTION);
    for (let run = 0; run < WARM_UP; run++) judgeOnce();
    const times = Array.from({ length: RUNS }, () => {
      const before = performance.now();
      judgeOnce();
      return performance.now() - before;
    }).sort((a, b) => a - b);
    return { what, us: times[RUNS / 2]! * 1000 };
  });
}
