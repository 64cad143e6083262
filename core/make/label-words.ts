/**
 * The words of a label in one language, filled in by the label's own figures. They are short, because a jar is small.
 */
export interface LabelWords {
  /** BCP 47, for whoever reads the label aloud. */
  readonly language: string;
  readonly languageName: string;
  /** What it is for, in the trade's words. */
  readonly purpose: string;
  readonly beforeEndOf: string;
  readonly batch: string;
  /** "Made in {country}" */
  readonly origin: string;
  /** Sentences, each by what makes it needed. */
  readonly precautions: {
    readonly always: string;
    readonly scented: string;
    /** "Contains: {families}." */
    readonly contains: string;
  };
  /** Allergen families by id. */
  readonly families: Readonly<Record<string, string>>;
}
