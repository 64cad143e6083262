/**
 * The words for a nearest blend: what changes, or what would have to give.
 */
import type { Conflict } from "./nearest/conflicts.ts";
import { ENGLISH, type Speech, fill, inSentence } from "../words/words.ts";
import type { Change } from "./nearest/nearest.ts";

type NameOf = (subject: string) => string;

/**
 * What changes, as a customer says it: "2 % less cocoa butter, 2 % more sunflower oil".
 * @param nameOf turns an ingredient id into the name people use
 * @param sayShare writes a share [hundredths of a percent]; "2 %" when not said
 * @returns no full stop and no capital, to stand inside a sentence; empty when nothing changes
 */
export function sayChanges(
  changes: readonly Change[],
  nameOf: NameOf,
  sayShare: (share: number) => string = percent,
  speech: Speech<"changes" | "namesInSentence"> = ENGLISH,
): string {
  return [...changes]
    .sort((one, other) => one.to - one.from - (other.to - other.from))
    .map(({ ingredient, from, to }) =>
      fill(speech.core.changes[wayOf(from, to)], {
        name: inSentence(nameOf(ingredient), speech),
        from: sayShare(from),
        to: sayShare(to),
        step: sayShare(Math.abs(to - from)),
      }),
    )
    .join(", ");
}

function wayOf(from: number, to: number) {
  if (to === 0) return "instead";
  if (from === 0) return "added";
  return to < from ? "less" : "more";
}

/**
 * One sentence of a rule or bound that stands in the way, and by how much it would have to give.
 * The maker reads it, so it is English.
 * @param nameOf turns an ingredient id or a place into the name people use
 */
export function sayConflict({ gives, subject, stands, needed }: Conflict, nameOf: NameOf): string {
  const name = nameOf(subject);
  switch (gives) {
    case "firmness-softest":
      return `The firmness must be ${stands} or firmer; ${needed} would have to be allowed.`;
    case "firmness-hardest":
      return `The firmness must be ${stands} or softer; ${needed} would have to be allowed.`;
    case "softens-above":
      return `It must keep its body to ${stands} °C; it could at ${needed} °C at most.`;
    case "pore-rating":
      return `The pore rating stops at ${stands}; ${needed} would have to be allowed.`;
    case "unrated":
      return "Ingredients without a pore rating are not let through; they would have to be.";
    case "strictness":
      return "The whole uncertainty band must pass; the central value alone would.";
    case "least":
      return `${name} must be at least ${percent(Number(stands))}; ${percent(Number(needed))} would do.`;
    case "greatest":
      return `${name} may be at most ${percent(Number(stands))}; ${percent(Number(needed))} would do.`;
  }
}

/** Where no rule or bound is enough by itself. */
export const SEVERAL_MUST_GIVE =
  "No blend inside these bounds passes, and no single rule or bound would let one through by giving way.";

function percent(share: number): string {
  return `${share / 100} %`;
}
