/** How one part is mutated; `run.mjs` says which. */
import { chosenPart } from "./parts.mjs";

const { name, mutate } = chosenPart();
const FOLDER = ".build/mutants";

export default {
  mutate,
  testRunner: "vitest",
  // The tests reach what is mutated through the package's own import names, which Vitest does not count as related.
  vitest: { configFile: "tests/mutants/vitest.config.mjs", related: false },
  coverageAnalysis: "perTest",
  // A mutant in a table of figures is met by every test or by none, and says little: its tests hold the figures.
  ignoreStatic: true,
  checkers: [],
  disableTypeChecks: false,
  concurrency: 2,
  // A busy machine must not pass for an endless loop.
  timeoutMS: 60_000,
  timeoutFactor: 2,
  dryRunTimeoutMinutes: 30,
  tempDirName: `${FOLDER}/sandbox`,
  ignorePatterns: [
    ...["/.data", "/.wrangler", "/.pictures", "/.git", "*.db", "/README.md"],
    ...[`/${FOLDER}`, "/.build/load", "/.build/bench"],
  ],
  reporters: ["progress-append-only", "json"],
  jsonReporter: { fileName: `${FOLDER}/${name}.json` },
  incremental: true,
  incrementalFile: `${FOLDER}/${name}.incremental.json`,
  thresholds: { high: 90, low: 80, break: null },
};
