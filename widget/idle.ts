/**
 * Work that can wait: until nothing else is to be done, or until nobody has asked for it a while.
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

/** Let the browser paint, and take a tap that waits, before more is done. A page out of sight is not painted. */
export function breath(): Promise<void> {
  return new Promise((done) => {
    if (document.hidden) setTimeout(done);
    else requestAnimationFrame(() => setTimeout(done));
  });
}

/** Something to do once nobody has asked for it a while. */
export interface AfterSilence {
  /** Ask for it: the silence begins anew. */
  soon(): void;
  stop(): void;
}

/** The timer runs on while it is asked for again, and looks at the clock when it ends: setting one is dear. */
export function afterSilence(silenceMs: number, doing: () => void): AfterSilence {
  let timer: ReturnType<typeof setTimeout> | undefined;
  let due = 0;
  const look = () => {
    const left = due - performance.now();
    timer = left > 0 ? setTimeout(look, left) : undefined;
    if (!timer) doing();
  };
  return {
    soon() {
      due = performance.now() + silenceMs;
      timer ??= setTimeout(look, silenceMs);
    },
    stop() {
      clearTimeout(timer);
      timer = undefined;
    },
  };
}
