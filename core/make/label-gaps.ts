/**
 * What stands between a blend and its label: a particular that is missing, or a label that cannot hold them. A code
 * never changes its meaning. Only the maker reads these, in English.
 */
import { fill } from "../words/words.ts";

/** `stops`: nobody can print past it. The others an owner may print past, with a reason that is kept. */
const GAPS = {
  "label.inci.missing": {
    stops: false,
    words:
      "{subject} has no INCI name, so the list of ingredients has a hole. Add the name on the shelf.",
  },
  "label.composition.missing": {
    stops: false,
    words:
      "What {subject} brings of fragrance allergens is not on record, so the list may lack some. Ask the supplier for its sheet.",
  },
  "label.responsible.missing": {
    stops: false,
    words: "No responsible person for {market}. Write name and address in the label settings.",
  },
  "label.contact.missing": {
    stops: false,
    words:
      "No way to report a reaction for {market}: an address there, a phone number there, or an e-mail or web address. Write one in the label settings.",
  },
  "label.shelf-life.missing": {
    stops: false,
    words:
      "How long the jar lasts is not said, so it has no date. Write the months you found, closed and opened, on the product’s label sheet, or for all products in the label settings.",
  },
  "label.open-months.missing": {
    stops: false,
    words:
      "It lasts more than 30 months, so the label carries the open jar with months; they are not said. Write them on the product’s label sheet, or for all products in the label settings.",
  },
  "label.months.unproven": {
    stops: false,
    words:
      "How long {subject} lasts was taken over when the product was begun, and nobody has said since how it is known. Say so on its label sheet and publish it.",
  },
  "label.words.untold": {
    stops: false,
    words:
      "“{particular}” of {subject} is written, and not in {languages}. Write it on the product’s label sheet and publish it.",
  },
  "label.lot.unknown": {
    stops: false,
    words:
      "No lot of {subject} that may be used is known, so the date cannot be held against it. Receive one on the shelf, or say which went in when you close the batch.",
  },
  "label.lot.undated": {
    stops: false,
    words:
      "Lot {lot} of {subject} has no best-before date, so the jar’s date cannot be held against it. Write it on the shelf from the pack.",
  },
  "label.lot.past-its-date": {
    stops: true,
    words:
      "Lot {lot} of {subject} was best before {date}, earlier than the day of making. No label can carry a later date. Use another lot, or mend the lot’s date on the shelf if it is wrong.",
  },
  "label.particular.nowhere": {
    stops: false,
    words:
      "No label of yours carries “{subject}” for {market}. Add a label that does, or let one carry everything.",
  },
  "label.size.too-narrow": {
    stops: true,
    words:
      "“{subject}” is too narrow: at the height the law asks for, the content does not fit into its {limit} mm. {help}",
  },
  "label.size.too-small": {
    stops: true,
    words:
      "“{subject}” is too small. At the smallest type allowed the words need {measured} mm of height; it has {limit} mm. {help}",
  },
} as const satisfies Record<string, { readonly stops: boolean; readonly words: string }>;

export type LabelGapCode = keyof typeof GAPS;

export interface LabelGap {
  readonly code: LabelGapCode;
  readonly figures: Readonly<Record<string, string>>;
}

/** A gap by its code. @param figures for the {names} in its words */
export function labelGap(code: LabelGapCode, figures: LabelGap["figures"]): LabelGap {
  return { code, figures };
}

/** Whether nobody can print past it, with a reason or without. */
export function stopsPrint({ code }: LabelGap): boolean {
  return GAPS[code].stops;
}

/** What is missing, and what to do. @throws RangeError when a figure is missing */
export function sayGap({ code, figures }: LabelGap): string {
  return fill(GAPS[code].words, figures);
}
