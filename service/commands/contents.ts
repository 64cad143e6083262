/**
 * `softset contents FILE`: what the jars of a batch hold as JSON in, whether their label is kept as JSON out.
 */
import { type NetContentCheck, checkNetContent } from "#core/make/net-content.ts";
import * as z from "zod";
import { Refusal } from "../problem.ts";
import { pointersOf } from "../typed/pointers.ts";
import { readJson } from "./blend-file.ts";
import { jsonText } from "./json-text.ts";

const JARS_MOST = 100_000;

const RequestShape = z
  .strictObject({
    rule: z.enum(["eu", "us"]),
    /** On the label [g] */
    labelG: z.number().positive(),
    /** Of that label in the batch. */
    jars: z.int().min(1).max(JARS_MOST),
    /** Of each jar that was weighed, without the jar [g] */
    contentsG: z.array(z.number().min(0)).max(JARS_MOST),
  })
  .refine(({ jars, contentsG }) => contentsG.length <= jars, {
    path: ["contentsG"],
    error: "No more jars can be weighed than there are in the batch.",
  });

/**
 * Check the net contents that a file holds.
 * @param rest one file name, or "-" for standard input
 * @returns verdict, a sentence and the figures behind it [g] as JSON text; jars not for sale by their place, from 1
 * @throws Refusal when the file cannot be read or does not describe weighed jars
 */
export async function contentsCommand(rest: readonly string[]): Promise<string> {
  const parsed = RequestShape.safeParse(readJson("contents", rest));
  if (!parsed.success) {
    throw new Refusal("request.body.invalid", "The input does not describe weighed jars.", {
      errors: pointersOf(parsed.error),
    });
  }
  const { rule, labelG, jars, contentsG } = parsed.data;
  const contentsMg = contentsG.map(milligrams);
  return jsonText(answer(checkNetContent(rule, milligrams(labelG), contentsMg, jars)));
}

function answer(check: NetContentCheck) {
  const sentence = say(check);
  if (check.verdict === "cannot-judge") return { ...check, sentence };
  const { verdict, weighed, meanMg, meanLeastMg, shortBelowMg, short, shortMost } = check;
  return {
    ...{ verdict, sentence, weighed, meanG: grams(meanMg), meanLeastG: grams(meanLeastMg) },
    ...{ shortBelowG: grams(shortBelowMg), short, shortMost },
    ...(check.neverBelowMg === undefined ? {} : { neverBelowG: grams(check.neverBelowMg) }),
    notForSale: check.notForSale.map((at) => at + 1),
  };
}

function say(check: NetContentCheck): string {
  if (check.verdict === "cannot-judge") {
    if (check.because === "too-few") {
      return `Weigh ${check.needed} jars; so far: ${check.weighed}.`;
    }
    return "No figure is kept here for a label of this size.";
  }
  const { verdict, meanMg, meanLeastMg, short, shortMost, notForSale } = check;
  if (verdict === "holds") return "The jars hold what their label says.";
  const faults = [
    ...(meanMg < meanLeastMg
      ? [`On average they hold ${grams(meanMg)} g; ${grams(meanLeastMg)} g are needed.`]
      : []),
    ...(short > shortMost ? [`Too far below the label: ${short}; allowed: ${shortMost}.`] : []),
    ...(notForSale.length > 0 ? ["Keep back those that are not for sale, and fill them up."] : []),
  ];
  return faults.join(" ");
}

const milligrams = (g: number): number => Math.round(g * 1000);
const grams = (mg: number): number => Math.round(mg) / 1000;
