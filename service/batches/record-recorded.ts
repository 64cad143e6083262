/**
 * Fixed texts that a record keeps in English, as its export reads, and that its page and print say in the language of
 * the bench: the titles of steps, and what was looked at before the start.
 */
import { BLANKS, JUDGE_AFTER_DAYS } from "#core/make/steps.ts";
import type { StepId } from "#core/make/cautions.ts";
import { sayIn } from "../words/speak.ts";

/** What is looked at before anything is weighed (ISO 22716:2007, clause 7.2). */
const START_CHECK_IDS = ["materials", "equipment", "cleared", "scale"] as const;

const ENGLISH = "en";
const STEP_IDS = Object.keys(BLANKS) as StepId[];

/** Title of a step as a record keeps it. */
export function recordedTitle(step: StepId): string {
  return titleIn(ENGLISH, step);
}

function titleIn(locale: string, step: StepId): string {
  return sayIn(locale, `step.${step}`, { days: JUDGE_AFTER_DAYS });
}

/** Title of a step for a reader; one that is not among ours stays as it was written. */
export function sayTitle(recorded: string, locale: string): string {
  const step = STEP_IDS.find((each) => recordedTitle(each) === recorded);
  return step === undefined ? recorded : titleIn(locale, step);
}

/** The checks before the start as a record keeps them. */
export const START_CHECKS: readonly string[] = START_CHECK_IDS.map((id) => checkIn(ENGLISH, id));

/** A check before the start for a reader; one that is not among ours stays as it was written. */
export function sayCheck(recorded: string, locale: string): string {
  const id = START_CHECK_IDS[START_CHECKS.indexOf(recorded)];
  return id === undefined ? recorded : checkIn(locale, id);
}

function checkIn(locale: string, id: (typeof START_CHECK_IDS)[number]): string {
  return sayIn(locale, `record.start-${id}`);
}
