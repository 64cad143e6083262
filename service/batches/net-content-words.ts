/**
 * What a check of net contents found, in the words of a language.
 */
import type { Advice } from "#core/make/net-content-advice.ts";
import type { Tongue } from "../documents/tongue.ts";

/** One finding as a sentence, or two. */
export function sayAdvice(
  { code, massesMg, counts, jars, more }: Advice,
  { say, number, list }: Pick<Tongue, "say" | "number" | "list">,
): string {
  const grams = (mg: number) => `${number(mg / 1000)}\u00a0g`;
  const masses = Object.entries(massesMg).map(([name, mg]) => [name, grams(mg)]);
  const numbers = Object.entries(counts).map(([name, count]) => [name, number(count)]);
  const names = jars.map(({ place, mg }) => say("contents.jar", { place, mass: grams(mg) }));
  const named = more > 0 ? say("contents.others", { jars: names.join(", "), more }) : list(names);
  return say(`contents.${code}`, { ...Object.fromEntries([...masses, ...numbers]), jars: named });
}
