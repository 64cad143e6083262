/**
 * What a customer reads when a request is refused, by the code of the refusal. The API and the maker read the English
 * sentence that the refusal carries.
 */
import { type ProblemCode, Refusal } from "../problem.ts";
import { isSaid, sayIn } from "./speak.ts";

/**
 * A refusal that customers meet and whose code alone says too little.
 * @param told key of its sentence among the words (`refused`)
 */
export function refusalTold(code: ProblemCode, told: string): Refusal {
  return new Refusal(code, sayIn("en", `refused.${told}`), { told });
}

/** One sentence in the language of a locale: what happened, what is kept, what to do. */
export function sayRefusal({ code, particulars: { told } }: Refusal, locale: string): string {
  const message = `refused.${told ?? code}`;
  return sayIn(locale, isSaid(message) ? message : "refused.other");
}

/** A heading for the same. */
export function titleRefusal({ code }: Refusal, locale: string): string {
  const message = `problem.${code}`;
  return sayIn(locale, isSaid(message) ? message : "problem.other");
}
