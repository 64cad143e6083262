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
