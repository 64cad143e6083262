/**
 * One thing that goes wrong, and the tests that show what the shop makes of it.
 */

/** A test by its file under `tests` and its title, as both are written there. */
export interface Shown {
  readonly file: string;
  readonly title: string;
}

export interface Fault {
  /** Stays with the fault for good. */
  readonly number: number;
  /** Money or an order could be lost or doubled, or somebody let in: it must be shown by a test. */
  readonly isFirst: boolean;
  /** What goes wrong. */
  readonly what: string;
  readonly shown: readonly Shown[];
  /** Why it cannot happen here, where no test shows it. */
  readonly notHere?: string;
}

/** Titles of one file. */
export const inFile =
  (file: string) =>
  (...titles: readonly string[]): readonly Shown[] =>
    titles.map((title) => ({ file, title }));

type Row = (number: number, what: string, ...shown: readonly (readonly Shown[])[]) => Fault;

export const first: Row = (number, what, ...shown) => ({
  ...{ number, isFirst: true, what, shown: shown.flat() },
});

export const fault: Row = (number, what, ...shown) => ({
  ...{ number, isFirst: false, what, shown: shown.flat() },
});

export const notHere = (number: number, what: string, why: string): Fault => ({
  ...{ number, isFirst: false, what, shown: [], notHere: why },
});
