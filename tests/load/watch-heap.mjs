/**
 * Loaded into the server before anything else: tells how much of the heap is in use whenever it was cleared as a whole,
 * by itself and when it thought fit.
 */
import { PerformanceObserver, constants } from "node:perf_hooks";

const observer = new PerformanceObserver((list) => {
  const isWhole = list
    .getEntries()
    .some(({ detail }) => detail.kind === constants.NODE_PERFORMANCE_GC_MAJOR);
  if (!isWhole || !process.connected) return;
  process.send({ at: Date.now(), value: process.memoryUsage().heapUsed });
});
observer.observe({ entryTypes: ["gc"] });
process.channel?.unref();
