/**
 * What stands behind an error. The query builder wraps what an engine says, and so does whoever calls it.
 */

/** Deeper than anything wraps; a chain that bites its own tail ends here. */
const DEPTH_MOST = 5;

/** An error and those it was caused by, the outermost first; none of what is no error. */
export function* causesOf(error: unknown): Generator<Error> {
  for (let at = error, depth = 0; at instanceof Error && depth < DEPTH_MOST; depth++) {
    yield at;
    at = at.cause;
  }
}
