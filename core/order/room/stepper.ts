/**
 * Long work in short slices: whoever drives it, a page's worker or a server between two requests, decides how many
 * blends are judged before it takes breath. The core has no clock, so a slice is counted in blends.
 */
export interface Slices<Result> {
  /**
   * Go on.
   * @param blends how many to judge at most, give or take a dozen
   * @returns true when everything is done
   */
  readonly step: (blends: number) => boolean;
  /** How far it is; the plan is an estimate and never shrinks below what was done. */
  readonly progress: () => { readonly judged: number; readonly planned: number };
  /** @throws before everything is done */
  readonly result: () => Result;
}

/**
 * Drive a generator that pauses after every blend.
 * @param planned how many blends it will take, about
 */
export function sliced<Result>(
  work: Generator<undefined, Result>,
  planned: number,
): Slices<Result> {
  let judged = 0;
  let done: { readonly value: Result } | undefined;
  return {
    step: (blends) => {
      for (let i = 0; i < blends && !done; i++) {
        const next = work.next();
        if (next.done) done = { value: next.value };
        else judged++;
      }
      return done !== undefined;
    },
    progress: () => ({ judged, planned: done ? judged : Math.max(planned, judged + 1) }),
    result: () => {
      if (!done) throw new Error("the work is not done yet; go on with step()");
      return done.value;
    },
  };
}
