/**
 * Work that can wait until nothing else is to be done.
 */
const LONGEST_WAIT_MS = 500;

/** Resolves when the page has drawn breath. */
export function idle(): Promise<void> {
  return new Promise((done) => {
    if (typeof requestIdleCallback === "function") {
      requestIdleCallback(() => done(), { timeout: LONGEST_WAIT_MS });
    } else setTimeout(done);
  });
}

/** Let the browser do what waits, a tap or a frame, before more is done. */
export function breath(): Promise<void> {
  return new Promise((done) => setTimeout(done));
}
