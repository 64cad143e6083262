/**
 * What can go wrong between the page and the shop's service, and what a person is told about it.
 */
import type { Problem } from "#core/wire.ts";

export interface Trouble {
  /** Stable code: the service's own where it answered, `widget.<...>` where it did not. */
  readonly code: string;
  /** What happened, what is kept, what to do. */
  readonly sentence: string;
  /**
   * Whether the service certainly did nothing, so that asking again with a fresh quote is right.
   */
  readonly certain: boolean;
}

/** What was being tried. */
export type Errand = "load" | "quote" | "order";

const KEPT_AND_NEXT: Record<Errand, string> = {
  load: "Nothing is lost. Please try again.",
  quote: "Your blend is kept and nothing has been ordered. Please try again.",
  order: "Your blend is kept. Please press the button again; that cannot order twice.",
};

const HAPPENED = {
  offline: "You seem to be offline.",
  slow: "The shop took too long to answer.",
  unreachable: "The shop could not be reached.",
  unreadable: "The shop’s answer made no sense.",
  fault: "The shop has a fault just now.",
  busy: "The shop is very busy.",
};

/** The service did not answer, or not usefully. */
export function noAnswer(errand: Errand, why: keyof typeof HAPPENED): Trouble {
  const sentence = `${HAPPENED[why]} ${KEPT_AND_NEXT[errand]}`;
  return { code: `widget.exchange.${why}`, sentence, certain: false };
}

/** The page does not say what to load. */
export function notSetUp(attribute: "product" | "service"): Trouble {
  const sentence =
    `This page does not say which ${attribute} to show. ` +
    `Whoever keeps it can mend that with the “${attribute}” attribute.`;
  return { code: `widget.attribute.${attribute}`, sentence, certain: true };
}

/** A problem the service answered with (RFC 9457), or a bare status when it sent none. */
export function refused(errand: Errand, status: number, problem?: Problem): Trouble {
  if (status >= 500) return noAnswer(errand, "fault");
  if (status === 429) return noAnswer(errand, "busy");
  if (!problem) return noAnswer(errand, "unreadable");
  const { code, findings, detail } = problem;
  const why = findings?.map(({ sentence }) => sentence).join(" ") || detail;
  const next =
    errand === "load"
      ? "Please look at what else the shop offers."
      : "Your blend is kept and nothing has been ordered.";
  return { code, sentence: `${why} ${next}`, certain: true };
}
