/**
 * What the doctor says of one thing.
 */

export interface Word {
  /** What was looked at, as `database.free`; it never changes its meaning. */
  readonly about: string;
  /** `well`; `look` when nothing is broken and somebody should know; `mend` when the shop cannot do its work. */
  readonly state: "well" | "look" | "mend";
  /** One sentence or two: what is so, and what to do. */
  readonly sentence: string;
}

type Say = (about: string, sentence: string) => Word;

export const well: Say = (about, sentence) => ({ about, state: "well", sentence });
export const look: Say = (about, sentence) => ({ about, state: "look", sentence });
export const mend: Say = (about, sentence) => ({ about, state: "mend", sentence });
