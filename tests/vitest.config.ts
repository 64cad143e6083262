import { defineConfig } from "vitest/config";
import { strictWords } from "../widget/words/compile.mjs";

// The one place where a tool asks for a default export.
export default defineConfig({
  plugins: [strictWords],
  test: {
    include: ["tests/**/*.test.ts"],
    testTimeout: 60_000,
    hookTimeout: 60_000,
    pool: "forks",
    // One module graph for all files of a worker: loading the service anew for each cost more than the tests do.
    isolate: false,
    // Browser and edge tests mostly wait, so one worker more than a small machine has cores.
    maxWorkers: 3,
    // A browser on a crowded machine now and then misses a wait; a real fault fails twice.
    retry: 1,
  },
});
